/* What people write for a unit. */
#include "syntax/reader.h"

#include <ctype.h>
#include <string.h>

static const struct {
    const char *spelling;
    Unit unit;
} others[] = {
    {"mms", UNIT_MM},           {"millimetre", UNIT_MM},   {"millimetres", UNIT_MM},
    {"millimeter", UNIT_MM},    {"millimeters", UNIT_MM},  {"cms", UNIT_CM},
    {"centimetre", UNIT_CM},    {"centimetres", UNIT_CM},  {"centimeter", UNIT_CM},
    {"centimeters", UNIT_CM},   {"metre", UNIT_M},         {"metres", UNIT_M},
    {"meter", UNIT_M},          {"meters", UNIT_M},        {"inch", UNIT_IN},
    {"inches", UNIT_IN},        {"ins", UNIT_IN},          {"foot", UNIT_FT},
    {"feet", UNIT_FT},          {"yard", UNIT_YD},         {"yards", UNIT_YD},
    {"yds", UNIT_YD},           {"wrap", UNIT_TURNS},      {"wraps", UNIT_TURNS},
    {"wind", UNIT_TURNS},       {"winds", UNIT_TURNS},     {"round", UNIT_TURNS},
    {"rounds", UNIT_TURNS},     {"rotations", UNIT_TURNS}, {"threads", UNIT_TURNS},
    {"rev", UNIT_TURNS},        {"strands", UNIT_TURNS},   {"t", UNIT_TURNS},
    {"x", UNIT_TURNS},          {"times", UNIT_TURNS},     {"tn", UNIT_TURNS},
    {"trn", UNIT_TURNS},        {"coils", UNIT_TURNS},     {"loops", UNIT_TURNS},
    {"passes", UNIT_TURNS},     {"revs", UNIT_TURNS},      {"revolutions", UNIT_TURNS},
    {"revolution", UNIT_TURNS}, {"degree", UNIT_DEG},      {"degrees", UNIT_DEG},
    {"percent", UNIT_PERCENT},
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

Unit unit_meant(const char *written)
{
    char word[24] = "";
    for (size_t i = 0; written[i] && i + 1 < sizeof word; i++)
        word[i] = (char)tolower((unsigned char)written[i]);
    Unit nearest = unit_known_as(word);
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN && nearest == UNIT_NONE; unit++)
        nearest = strcmp(word, unit_spelling(unit)) == 0 ? unit : UNIT_NONE;
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

const char *scaled_unit(Arena *arena, const char *word, double number)
{
    static const struct {
        const char *spelling, *unit;
        double factor;
    } scaled[] = {{"thou", "in", 0.001}, {"thous", "in", 0.001},   {"mil", "in", 0.001},
                  {"mils", "in", 0.001}, {"micron", "mm", 0.001},  {"microns", "mm", 0.001},
                  {"um", "mm", 0.001},   {"\u00b5m", "mm", 0.001}, {"\u03bcm", "mm", 0.001},
                  {"dm", "cm", 10},      {"dozen", "turns", 12},   {"hundredths", "mm", 0.01},
                  {"tenths", "mm", 0.1}};
    for (size_t i = 0; i < sizeof scaled / sizeof *scaled; i++)
        if (strcmp(scaled[i].spelling, word) == 0)
            return text_format(arena, "%s %s", show_number(arena, number * scaled[i].factor, 6), scaled[i].unit);
    return NULL;
}
