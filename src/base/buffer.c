#include "base/buffer.h"

#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

void buffer_start(Buffer *buffer, Arena *arena) { *buffer = (Buffer){.arena = arena}; }

void buffer_widen(Buffer *buffer, size_t length)
{
    size_t most = buffer->most + BUFFER_AHEAD;
    if (buffer->most && length > most - buffer->length)
        trap_beyond(buffer->arena->trap, BEYOND_PAGE_BYTES);
    size_t room = buffer->room ? buffer->room * 2 : 1024;
    while (room - buffer->length < length)
        room *= 2;
    if (buffer->most && room > most)
        room = most;
    buffer->bytes = arena_grow(buffer->arena, buffer->bytes, buffer->length, room, 1);
    buffer->room = room;
}

void buffer_format(Buffer *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char small[256];
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(small, sizeof small, format, arguments);
    va_end(arguments);
    if (length >= 0 && (size_t)length < sizeof small)
        buffer_put(buffer, small, (size_t)length);
    else
        buffer_text(buffer, text_format_list(buffer->arena, format, again));
    va_end(again);
}

void buffer_whole(Buffer *buffer, uint64_t value)
{
    char digits[20], *first = digits + sizeof digits;
    do
        *--first = (char)('0' + value % 10);
    while (value /= 10);
    buffer_put(buffer, first, (size_t)(digits + sizeof digits - first));
}

void write_hex(char digits[16], uint64_t number)
{
    for (int i = 0; i < 16; i++)
        digits[i] = "0123456789abcdef"[number >> (60 - 4 * i) & 15];
}

/* Digits of a scaled whole number, with the point set in. Returns the length. */
static size_t print_scaled(char *out, unsigned long long scaled, int decimals, int negative)
{
    char digits[32];
    size_t count = 0;
    do {
        digits[count++] = (char)('0' + scaled % 10);
        scaled /= 10;
    } while (scaled || count <= (size_t)decimals);
    size_t length = 0;
    if (negative)
        out[length++] = '-';
    while (count) {
        if (count == (size_t)decimals)
            out[length++] = '.';
        out[length++] = digits[--count];
    }
    return length;
}

static size_t print_number(char *out, double value, int decimals)
{
    static const double scale[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};
    double scaled = round(fabs(value) * scale[decimals]);
    if (!(scaled < 1e18)) /* beyond every limit of the program; written so that it is seen */
        return (size_t)sprintf(out, "%s", isnan(value) ? "nan" : value < 0 ? "-inf" : "inf");
    return print_scaled(out, (unsigned long long)scaled, decimals, value < 0 && scaled > 0);
}

void buffer_number(Buffer *buffer, double value, int decimals)
{
    char out[64];
    buffer_put(buffer, out, print_number(out, value, decimals));
}

void buffer_number_short(Buffer *buffer, double value, int decimals)
{
    char out[64];
    size_t length = print_number(out, value, decimals);
    if (memchr(out, '.', length)) {
        while (out[length - 1] == '0')
            length--;
        if (out[length - 1] == '.')
            length--;
    }
    buffer_put(buffer, out, length);
}

int character_columns(int32_t character)
{
    int columns = utf8proc_charwidth(character);
    return !columns && utf8proc_category(character) == UTF8PROC_CATEGORY_MC ? 1 : columns;
}

int text_columns(const char *string)
{
    const utf8proc_uint8_t *at = (const utf8proc_uint8_t *)string;
    while (*at >= ' ' && *at <= '~')
        at++;
    int columns = (int)((const char *)at - string);
    while (*at) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate(at, -1, &character);
        if (length <= 0) {
            at++;
            columns++;
            continue;
        }
        columns += character_columns(character);
        at += length;
    }
    return columns;
}

void buffer_column(Buffer *buffer, const char *string, int columns)
{
    int blanks = abs(columns) - text_columns(string);
    if (columns >= 0)
        buffer_text(buffer, string);
    for (int i = 0; i < blanks; i++)
        buffer_put(buffer, " ", 1);
    if (columns < 0)
        buffer_text(buffer, string);
}

bool put_program_number(Buffer *buffer, double value)
{
    const double past_decimals = 1e11, past_digits = 1e17; /* a double has no more to show */
    if (!(fabs(value) < past_digits))
        return false;
    buffer_number_short(buffer, value, fabs(value) < past_decimals ? PROGRAM_DECIMALS : 0);
    return true;
}
