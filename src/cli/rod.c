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

static const char *name_of_section(const Compiled *compiled, uint32_t rod, uint32_t section)
{
    TurnlaySection about;
    return turnlay_section(compiled->compilation, rod, section, &about) == TURNLAY_DONE ? about.name : NULL;
}

/* Rods of one piece have none that could be asked for. */
static bool has_sections(const Compiled *compiled, uint32_t rod) { return name_of_section(compiled, rod, 1); }

static bool has_section(const Compiled *compiled, uint32_t rod, const char *word)
{
    const char *name;
    bool there = false;
    for (uint32_t i = 0; has_sections(compiled, rod) && (name = name_of_section(compiled, rod, i)); i++)
        there |= strcmp(name, word) == 0;
    return there;
}

/* NO_ROD if none of the rods from the first to end - 1 has it. */
static uint32_t rod_with_section(const Compiled *compiled, uint32_t first, uint32_t end, const char *word)
{
    for (uint32_t rod = first; rod < end && title_of(compiled, rod); rod++)
        if (has_section(compiled, rod, word))
            return rod;
    return NO_ROD;
}

static uint32_t first_rod(const Arguments *arguments, const Compiled *compiled)
{
    const char *section = arguments->section;
    uint32_t rod = section ? rod_with_section(compiled, 0, UINT32_MAX, section) : 0;
    return rod == NO_ROD ? 0 : rod;
}

uint32_t rod_asked_for(const Arguments *arguments, const Compiled *compiled)
{
    const char *word = arguments->rod;
    if (!word)
        return first_rod(arguments, compiled);
    uint32_t rod = rod_by_title(compiled, word);
    if (rod == NO_ROD)
        rod = rod_by_number(compiled, word);
    if (rod == NO_ROD)
        say_no_such_rod(compiled, word);
    return rod;
}

/* The section of the rod whose name is nearest to the word, and how far that is. */
static const char *section_near(const Compiled *compiled, uint32_t rod, const char *word, unsigned *distance)
{
    const char *nearest = NULL, *name;
    for (uint32_t i = 0; has_sections(compiled, rod) && (name = name_of_section(compiled, rod, i)); i++) {
        unsigned other = strcasecmp(name, word) == 0 ? 0 : text_distance(word, name, 2);
        if (other >= *distance)
            continue;
        *distance = other;
        nearest = name;
    }
    return nearest;
}

static void say_no_such_section(const Compiled *compiled, uint32_t first, uint32_t end, const char *word)
{
    const char *near = NULL, *any = NULL;
    unsigned distance = 3;
    for (uint32_t rod = first; rod < end && title_of(compiled, rod); rod++) {
        const char *nearer = section_near(compiled, rod, word, &distance);
        near = nearer ? nearer : near;
        if (!any && has_sections(compiled, rod))
            any = name_of_section(compiled, rod, 0);
    }
    if (near)
        say("%s has no section \"%s\"; did you mean \"%s\"?", compiled->shown, word, near);
    else if (any)
        say("%s has no section \"%s\"; the first is \"%s\"", compiled->shown, word, any);
    else
        say("%s has no section \"%s\": its rod is of one piece; leave out --section", compiled->shown, word);
}

bool section_asked_for(const Arguments *arguments, const Compiled *compiled, uint32_t rod)
{
    const char *word = arguments->section;
    uint32_t first = rod == NO_ROD ? 0 : rod, end = rod == NO_ROD ? UINT32_MAX : rod + 1;
    bool there = !word || rod_with_section(compiled, first, end, word) != NO_ROD;
    if (there)
        turnlay_show_section(compiled->compilation, word);
    else
        say_no_such_section(compiled, first, end, word);
    return there;
}
