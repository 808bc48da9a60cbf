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
    return word.length == strlen(string) && memcmp(word.start, string, word.length) == 0;
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

bool joins_quantity(const char *words, const char *blank)
{
    static const char range[] = "to ";
    Word before = word_before(words, blank), after = word_after(blank + 1);
    bool digit = is_digit(blank[1]);
    if (is_number(before) && after.length)
        return is_fraction(after) || is_unit(after)
               || (strncmp(blank + 1, range, strlen(range)) == 0 && is_digit(blank[1 + strlen(range)]));
    if (!digit || is_word(before, "+-") || before.start == words)
        return digit && is_word(before, "+-");
    return (is_word(before, "to") || is_word(before, "yd") || is_word(before, "ft"))
           && is_number(word_before(words, before.start - 1));
}

size_t unbroken_length(const char *words)
{
    const char *end = words;
    while (*end && (*end != ' ' || joins(words, end)))
        end++;
    return (size_t)(end - words);
}

const char *unbroken(Arena *arena, const char *text)
{
    static const char no_break[] = "\xc2\xa0";
    size_t joined = 0, length = 0;
    for (; text[length]; length++)
        joined += text[length] == ' ' && joins(text, text + length);
    if (!joined)
        return text;
    char *made = arena_take(arena, length + joined + 1), *end = made;
    for (const char *at = text; *at; at++) {
        bool join = *at == ' ' && joins(text, at);
        memcpy(end, join ? no_break : at, join ? 2 : 1);
        end += join ? 2 : 1;
    }
    return made;
}
