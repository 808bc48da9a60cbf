/* What people write for a unit. */
#include "syntax/reader.h"

#include <string.h>

static const struct {
    const char *spelling;
    Unit unit;
} others[] = {
    {"mms", UNIT_MM},          {"millimetre", UNIT_MM},  {"millimetres", UNIT_MM}, {"millimeter", UNIT_MM},
    {"millimeters", UNIT_MM},  {"cms", UNIT_CM},         {"centimetre", UNIT_CM},  {"centimetres", UNIT_CM},
    {"centimeter", UNIT_CM},   {"centimeters", UNIT_CM}, {"metre", UNIT_M},        {"metres", UNIT_M},
    {"meter", UNIT_M},         {"meters", UNIT_M},       {"inch", UNIT_IN},        {"inches", UNIT_IN},
    {"ins", UNIT_IN},          {"foot", UNIT_FT},        {"feet", UNIT_FT},        {"yard", UNIT_YD},
    {"yards", UNIT_YD},        {"yds", UNIT_YD},         {"wrap", UNIT_TURNS},     {"wraps", UNIT_TURNS},
    {"wind", UNIT_TURNS},      {"winds", UNIT_TURNS},    {"round", UNIT_TURNS},    {"rounds", UNIT_TURNS},
    {"rotations", UNIT_TURNS}, {"degree", UNIT_DEG},     {"degrees", UNIT_DEG},    {"percent", UNIT_PERCENT},
};
enum { OTHER_COUNT = sizeof others / sizeof *others };

Unit unit_known_as(const char *word)
{
    for (size_t i = 0; i < OTHER_COUNT; i++)
        if (strcmp(others[i].spelling, word) == 0)
            return others[i].unit;
    return UNIT_NONE;
}

/* Two slips in a short unit leave nothing of it. */
static unsigned slips_allowed(const char *spelling) { return strlen(spelling) < 4 ? 1 : 2; }

Unit unit_meant(const char *word)
{
    Unit nearest = unit_known_as(word);
    if (nearest != UNIT_NONE)
        return nearest;
    unsigned best = 3;
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN; unit++) {
        unsigned distance = text_distance(word, unit_spelling(unit), best - 1);
        if (distance < best && distance <= slips_allowed(unit_spelling(unit))) {
            best = distance;
            nearest = unit;
        }
    }
    for (size_t i = 0; i < OTHER_COUNT; i++) {
        unsigned distance = text_distance(word, others[i].spelling, best - 1);
        if (distance < best && distance <= slips_allowed(others[i].spelling)) {
            best = distance;
            nearest = others[i].unit;
        }
    }
    return nearest;
}
