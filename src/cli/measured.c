/* The value of --measured: a step of the sheet and a length, which is read as in a pattern file. */
#include "cli/arguments.h"

#include "base/limits.h"
#include "base/units.h"
#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

static const char digits[] = "0123456789";

static const char *past_blanks(const char *at) { return at + strspn(at, " "); }

/* "25/32", "1 3/8", "1-3/8", "9.4"; 0 if none of these stands there. */
static double read_number(const char **at)
{
    size_t whole = strspn(*at, digits), point = (*at)[whole] == '.' ? strspn(*at + whole + 1, digits) : 0;
    if (!whole)
        return 0;
    char *end;
    if (point) {
        double decimal = strtod(*at, &end);
        *at = *at + whole + 1 + point;
        return end == *at ? decimal : 0;
    }
    const char *above = *at + whole;
    double number = strtod(*at, NULL);
    if (*above == ' ' || *above == '-')
        above++;
    else if (*above == '/')
        above = *at, number = 0;
    size_t length = strspn(above, digits);
    const char *below = above + length + 1;
    if (!length || above[length] != '/' || !strspn(below, digits) || strtod(below, NULL) <= 0) {
        *at += whole;
        return number;
    }
    *at = below + strspn(below, digits);
    return number + strtod(above, NULL) / strtod(below, NULL);
}

/* UNIT_NONE if what stands there is no unit of length. */
static Unit read_unit(const char **at)
{
    static const char marks[] = "'\"";
    static const Unit marked[] = {UNIT_FT, UNIT_IN};
    const char *mark = **at ? strchr(marks, **at) : NULL;
    if (mark) {
        ++*at;
        return marked[mark - marks];
    }
    size_t length = strspn(*at, "abcdefghijklmnopqrstuvwxyz");
    for (Unit unit = UNIT_MM; unit <= UNIT_YD; unit++)
        if (length && strlen(unit_spelling(unit)) == length && memcmp(*at, unit_spelling(unit), length) == 0) {
            *at += length;
            return unit;
        }
    return UNIT_NONE;
}

/* mm, of "9.4mm", "1-3/8 in", "1' 2 1/2\"", and what comes after it; 0 if it is no length. */
static double read_length(const char **word)
{
    const char *at = *word;
    double length = 0;
    for (Unit before = UNIT_NONE; before == UNIT_NONE || strchr(digits, *at); at = past_blanks(at)) {
        double number = read_number(&at);
        at = past_blanks(at);
        Unit unit = read_unit(&at);
        if (!(number > 0) || !unit || (before && !(before == UNIT_FT && unit == UNIT_IN)))
            return 0;
        length += number * unit_factor(unit);
        before = unit;
        if (!*at)
            break;
    }
    *word = at;
    return length;
}

static bool takes(const char **at, const char *word)
{
    size_t length = strlen(word);
    if (strncmp(*at, word, length) != 0)
        return false;
    *at = past_blanks(*at + length);
    return true;
}

/* "after 61 turns": 61; 0 if it says nothing of turns, or not how many. */
static uint32_t read_turns(const char **at)
{
    if (!takes(at, "after"))
        return 0;
    char *end;
    long turns = strtol(*at, &end, 10);
    *at = past_blanks(end);
    return (takes(at, "turns") || takes(at, "turn")) && turns > 0 && turns < INT32_MAX ? (uint32_t)turns : 0;
}

bool measured_read(Arguments *arguments, Arena *arena, const char *word)
{
    char *end;
    long step = strtol(word, &end, 10);
    const char *at = past_blanks(*end == '=' ? end + 1 : "");
    double width = read_length(&at);
    at = past_blanks(at);
    bool counted = strncmp(at, "after", 5) == 0;
    uint32_t turns = read_turns(&at);
    bool sure = takes(&at, "sure");
    bool counted_well = !counted || turns > 0;
    if (step > 0 && step < INT32_MAX && width > 0 && width < LIMIT_MEASURED && counted_well && !*at) {
        *LIST_ADD(arena, &arguments->happened) = (HappenedGiven){.measured = {(uint32_t)step, width, turns, sure}};
        return true;
    }
    say("--measured is a step of the sheet and the width there with its unit, as in 29=9.4mm or 29=25/32in, and \"after 61 turns\" "
        "where you counted otherwise, or \"sure\" behind it; not %s",
        word);
    return false;
}
