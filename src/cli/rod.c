#include "cli/rod.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const char *title_of(const Compiled *compiled, uint32_t rod)
{
    TurnlayRod about;
    return turnlay_rod(compiled->compilation, rod, &about) == TURNLAY_DONE ? about.title : NULL;
}

/* A title may look like a number: then it is the title. */
static uint32_t rod_by_title(const Compiled *compiled, const char *word)
{
    for (uint32_t rod = 0; title_of(compiled, rod); rod++)
        if (strcmp(title_of(compiled, rod), word) == 0)
            return rod;
    return NO_ROD;
}

static uint32_t rod_by_number(const Compiled *compiled, const char *word)
{
    char *end;
    long number = strtol(word, &end, 10);
    bool there =
        end != word && !*end && number > 0 && number < INT32_MAX && title_of(compiled, (uint32_t)number - 1);
    return there ? (uint32_t)number - 1 : NO_ROD;
}

/* NULL if none is near. */
static const char *title_near(const Compiled *compiled, const char *word)
{
    const char *nearest = NULL;
    unsigned distance = 3;
    for (uint32_t rod = 0; title_of(compiled, rod); rod++) {
        const char *title = title_of(compiled, rod);
        unsigned other = strcasecmp(title, word) == 0 ? 0 : text_distance(word, title, 2);
        if (other < distance) {
            distance = other;
            nearest = title;
        }
    }
    return nearest;
}

static void say_no_such_rod(const Compiled *compiled, const char *word)
{
    const char *near = title_near(compiled, word);
    uint32_t rods = 0;
    while (title_of(compiled, rods))
        rods++;
    if (near)
        say("%s has no rod \"%s\"; did you mean \"%s\"?", compiled->shown, word, near);
    else
        say("%s has no rod \"%s\"; it has %u, the first is \"%s\"", compiled->shown, word, rods,
            title_of(compiled, 0));
}

uint32_t rod_asked_for(const Arguments *arguments, const Compiled *compiled)
{
    const char *word = arguments->rod;
    if (!word)
        return 0;
    uint32_t rod = rod_by_title(compiled, word);
    if (rod == NO_ROD)
        rod = rod_by_number(compiled, word);
    if (rod == NO_ROD)
        say_no_such_rod(compiled, word);
    return rod;
}
