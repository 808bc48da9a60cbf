/* The value of --mishap: a step of the sheet, what happened in it, and which way to go on. */
#include "cli/arguments.h"

#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

/* What is written, "#" for a number; the longest first of those that begin alike. */
static const struct MishapWords {
    TurnlayMishapKind kind;
    const char *words;
} mishap_words[] = {
    {TURNLAY_BROKE, "broke after # turns"},
    {TURNLAY_BROKE, "broke after # turn"},
    {TURNLAY_SPOOL_EMPTY, "spool empty after # turns"},
    {TURNLAY_SPOOL_EMPTY, "spool empty after # turn"},
    {TURNLAY_UNWOUND, "unwound to turn #"},
    {TURNLAY_LOOP_TORN, "loop torn"},
    {TURNLAY_TAG_OUT, "tag out"},
};

static const struct WayWords {
    TurnlayWay way;
    const char *words;
} way_words[] = {{TURNLAY_WAY_SPLICE, ",splice"}, {TURNLAY_WAY_RESTART, ",restart"}, {TURNLAY_WAY_EITHER, ""}};

static const char *past_blanks(const char *at) { return at + strspn(at, " "); }

/* A number that is below 2^31, and what comes after it; false if none stands there. */
static bool read_number(const char **at, uint32_t *number)
{
    size_t digits = strspn(*at, "0123456789");
    if (!digits || digits > 9)
        return false;
    *number = (uint32_t)strtoul(*at, NULL, 10);
    *at += digits;
    return true;
}

/* As many blanks as one likes stand for one, and round a comma none or some. */
static bool reads(const char **at, const char *words, uint32_t *number)
{
    const char *here = *at;
    for (; *words; words++) {
        bool comma = *words == ',', blank = *words == ' ';
        if (blank && *here != ' ')
            return false;
        here = comma || blank ? past_blanks(here) : here;
        if (*words == '#' ? !read_number(&here, number) : !blank && *here++ != *words)
            return false;
        here = comma ? past_blanks(here) : here;
    }
    *at = here;
    return true;
}

static bool read_mishap(const char *word, TurnlayMishap *mishap)
{
    const char *at = past_blanks(word);
    if (!read_number(&at, &mishap->step) || !mishap->step || *at != ' ')
        return false;
    at = past_blanks(at);
    for (size_t i = 0; i < sizeof mishap_words / sizeof *mishap_words; i++)
        for (size_t k = 0; k < sizeof way_words / sizeof *way_words; k++) {
            const char *rest = at;
            mishap->kind = mishap_words[i].kind;
            mishap->way = way_words[k].way;
            if (reads(&rest, mishap_words[i].words, &mishap->turns) && reads(&rest, way_words[k].words, NULL)
                && !*past_blanks(rest))
                return true;
        }
    return false;
}

bool mishap_read(Arguments *arguments, Arena *arena, const char *word)
{
    TurnlayMishap mishap = {.step = 0};
    if (read_mishap(word, &mishap)) {
        *LIST_ADD(arena, &arguments->happened) = (HappenedGiven){.is_mishap = true, .mishap = mishap};
        return true;
    }
    say("--mishap is a step of the sheet and what happened in it: \"14 broke after 5 turns\", \"14 spool empty after 5 "
        "turns\", \"14 unwound to turn 300\", \"14 loop torn\" or \"14 tag out\", with \", splice\" or \", restart\" behind "
        "it for one of the two ways; not %s",
        word);
    return false;
}
