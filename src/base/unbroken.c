#include "base/unbroken.h"

#include "base/units.h"

#include <ctype.h>
#include <string.h>

/* What stays with a number before it, beside units of length, turns and angles: what else is counted on pages. */
static const char *const counted[] = {"ml", "g", "o'clock"};

typedef struct Word {
    const char *start;
    size_t length;
} Word;

static bool is_word(Word word, const char *string)
{
    return word.length && word.start[0] == string[0] && word.length == strlen(string)
           && memcmp(word.start, string, word.length) == 0;
}

/* The word that ends before the blank at `end`, not further back than `words`. */
static Word word_before(const char *words, const char *end)
{
    const char *start = end;
    while (start > words && start[-1] != ' ')
        start--;
    return (Word){start, (size_t)(end - start)};
}

/* The word that begins here, without the stops behind it. */
static Word word_after(const char *start)
{
    size_t length = strcspn(start, " ");
    while (length && strchr(",.;:!?)", start[length - 1]))
        length--;
    return (Word){start, length};
}

/* "12", "0.486", "1/2", also behind a bracket: "(0.486". */
static bool is_number(Word word)
{
    size_t first = word.length && strchr("(-`", word.start[0]) ? 1 : 0;
    if (first == word.length || !is_digit(word.start[word.length - 1]))
        return false;
    for (size_t i = first; i < word.length; i++)
        if (!is_digit(word.start[i]) && !strchr(".,/", word.start[i]))
            return false;
    return true;
}

static bool is_fraction(Word word) { return is_digit(word.start[0]) && memchr(word.start, '/', word.length); }

/* "in" before an article is no inch: "6 in the band". */
static bool is_unit(Word word)
{
    if (is_word(word, unit_spelling(UNIT_IN)))
        return strncmp(word.start + word.length, " the ", 5) != 0;
    for (Unit unit = UNIT_NONE; unit < UNIT_UNKNOWN; unit++)
        if (is_word(word, unit_spelling(unit)))
            return true;
    for (size_t i = 0; i < sizeof counted / sizeof *counted; i++)
        if (is_word(word, counted[i]))
            return true;
    return false;
}

/* Behind a number: its unit, a fraction, or "to" and the range's other end. */
static bool follows_number(const char *start)
{
    static const char range[] = "to ";
    Word after = word_after(start);
    return after.length
           && (is_fraction(after) || is_unit(after)
               || (strncmp(start, range, strlen(range)) == 0 && is_digit(start[strlen(range)])));
}

bool joins_quantity(const char *words, const char *blank)
{
    if (is_digit(blank[-1]))
        return is_number(word_before(words, blank)) && follows_number(blank + 1);
    if (!is_digit(blank[1]) || !strchr("-odt", blank[-1])) /* the last letters of what stands before a number */
        return false;
    Word before = word_before(words, blank);
    if (is_word(before, "+-") || before.start == words)
        return is_word(before, "+-");
    return (is_word(before, "to") || is_word(before, "yd") || is_word(before, "ft"))
           && is_number(word_before(words, before.start - 1));
}

size_t unbroken_length(const char *words)
{
    const char *end = strchrnul(words, ' ');
    while (*end && joins(words, end))
        end = strchrnul(end + 1, ' ');
    return (size_t)(end - words);
}
