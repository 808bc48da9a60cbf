/* Where a line of a text may not end: a number stays with its unit, a fraction with its whole, a range together.
 */
#ifndef TURNLAY_BASE_UNBROKEN_H
#define TURNLAY_BASE_UNBROKEN_H

#include <stdbool.h>
#include <stddef.h>

/* Whether the blank joins what is on both sides of it; looked at from `words` on. A digit is always beside it:
 * that is seen here, since pages ask at every blank. */
bool joins_quantity(const char *words, const char *blank);
static inline bool is_digit(char sign) { return sign >= '0' && sign <= '9'; }
static inline bool joins(const char *words, const char *blank)
{
    return blank > words && (is_digit(blank[-1]) || is_digit(blank[1])) && joins_quantity(words, blank);
}

/* Bytes of the first word, with what stays with it: "7 1/8 in", "12.30 to 12.50 mm", "+- 0.30 mm". */
size_t unbroken_length(const char *words);
/* In place of a blank that joins, on pages that others break into lines: U+00A0. */
#define NO_BREAK_SPACE "\xc2\xa0"

#endif
