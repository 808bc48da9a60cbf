/* Output grown in an arena. Numbers are written by the program's own rule, the same in every locale. */
#ifndef TURNLAY_BASE_BUFFER_H
#define TURNLAY_BASE_BUFFER_H

#include "base/arena.h"

#include <stdbool.h>

typedef struct Buffer {
    Arena *arena;
    char *bytes; /* not NUL-terminated */
    size_t length, room;
} Buffer;

void buffer_start(Buffer *buffer, Arena *arena);
/* Room for so many more bytes after the last: whoever writes there adds to `length` what was written. */
char *buffer_room(Buffer *buffer, size_t length);
void buffer_put(Buffer *buffer, const void *bytes, size_t length);
void buffer_text(Buffer *buffer, const char *string);
/* printf; use buffer_number for fractions, since %f follows the locale. */
void buffer_format(Buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* value with exactly so many decimals (0 to 9), halves away from zero, never "-0". */
void buffer_number(Buffer *buffer, double value, int decimals);
/* The same without trailing zeros. */
void buffer_number_short(Buffer *buffer, double value, int decimals);
/* Pads with blanks (or cuts nothing) so that string takes `columns` of a terminal, whatever its
 * script: display width by utf8proc. Negative columns: flush right. */
void buffer_column(Buffer *buffer, const char *string, int columns);
/* Columns of a terminal that the UTF-8 text takes. */
int text_columns(const char *string);

/* Numbers for programs: lengths in mm to 6 decimals without trailing zeros. False, and nothing written, where
 * there is no number. */
enum { PROGRAM_DECIMALS = 6 };
bool put_program_number(Buffer *buffer, double value);

#endif
