/* Output grown in an arena. Numbers are written by the program's own rule, the same in every locale. */
#ifndef TURNLAY_BASE_BUFFER_H
#define TURNLAY_BASE_BUFFER_H

#include "base/arena.h"

#include <stdbool.h>
#include <string.h>

typedef struct Buffer {
    Arena *arena;
    char *bytes; /* not NUL-terminated */
    size_t length, room;
    size_t most; /* bytes it may hold, 0 for any number: no room is given for many more, see BUFFER_AHEAD */
} Buffer;

/* Room is asked for ahead of what is written there: whoever hands a buffer over looks whether it holds too much.
 */
enum { BUFFER_AHEAD = 4096 };

void buffer_start(Buffer *buffer, Arena *arena);
/* Room for so many bytes more than it has. */
void buffer_widen(Buffer *buffer, size_t length);
/* Room for so many more bytes after the last: whoever writes there adds to `length` what was written. Here, since
 * pages are put together from small pieces. */
static inline char *buffer_room(Buffer *buffer, size_t length)
{
    if (length > buffer->room - buffer->length)
        buffer_widen(buffer, length);
    return buffer->bytes + buffer->length;
}
static inline void buffer_put(Buffer *buffer, const void *bytes, size_t length)
{
    if (!length)
        return; /* an empty buffer has no place to write at */
    memcpy(buffer_room(buffer, length), bytes, length);
    buffer->length += length;
}
static inline void buffer_text(Buffer *buffer, const char *string) { buffer_put(buffer, string, strlen(string)); }
/* What is in it as a string, valid until more is put. */
static inline const char *buffer_string(Buffer *buffer)
{
    *buffer_room(buffer, 1) = 0;
    return buffer->bytes;
}
void buffer_whole(Buffer *buffer, uint64_t value);
/* The number's 16 hexadecimal digits, without a NUL behind. */
void write_hex(char digits[16], uint64_t number);
/* printf; use buffer_number for fractions, since %f follows the locale. Each takes as long as a line of text. */
void buffer_format(Buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* value with exactly so many decimals (0 to 9), halves away from zero, never "-0". */
void buffer_number(Buffer *buffer, double value, int decimals);
/* The same without trailing zeros. */
void buffer_number_short(Buffer *buffer, double value, int decimals);
/* Pads with blanks (or cuts nothing) so that string takes `columns` of a terminal, whatever its
 * script. Negative columns: flush right. */
void buffer_column(Buffer *buffer, const char *string, int columns);
/* Columns of a terminal that the character takes: its display width by utf8proc, but one for a spacing combining
 * mark (general category Mc), such as a vowel sign of Devanagari. */
int character_columns(int32_t character);
/* Columns of a terminal that the UTF-8 text takes. */
int text_columns(const char *string);

/* Numbers for programs: lengths in mm to 6 decimals without trailing zeros. False, and nothing written, where
 * there is no number. */
enum { PROGRAM_DECIMALS = 6 };
bool put_program_number(Buffer *buffer, double value);

#endif
