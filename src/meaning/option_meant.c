#include "meaning/option_meant.h"

#include <string.h>
#include <strings.h>

static const struct {
    NodeKind owner;
    const char *word, *option, *unit;
} other_options[] = {
    {NODE_ABOUT, "name", "title", ""},
    {NODE_ABOUT, "by", "author", ""},
    {NODE_ABOUT, "license", "licence", ""},
    {NODE_SIZE, "dia", "diameter", ""},
    {NODE_SIZE, "width", "diameter", ""},
    {NODE_SIZE, "thickness", "diameter", ""},
    {NODE_SIZE, "tolerance", "uncertainty", ""},
    {NODE_THREAD, "color", "colour", ""},
    {NODE_THREAD, "shade", "colour", ""},
    {NODE_THREAD, "colors", "colours", ""},
    {NODE_THREAD, "dia", "diameter", ""},
    {NODE_THREAD, "width", "diameter", ""},
    {NODE_THREAD, "thickness", "diameter", ""},
    {NODE_THREAD, "pitch", "diameter", ""},
    {NODE_THREAD, "wraps", "turns", ""},
    {NODE_THREAD, "count", "turns", ""},
    {NODE_THREAD, "rate", "turns", ""},
    {NODE_THREAD, "density", "turns", ""},
    {NODE_THREAD, "tpi", "turns", " per in"},
    {NODE_THREAD, "wpi", "turns", " per in"},
    {NODE_THREAD, "turns_per_inch", "turns", " per in"},
    {NODE_THREAD, "turns_per_in", "turns", " per in"},
    {NODE_THREAD, "tpcm", "turns", " per cm"},
    {NODE_THREAD, "turns_per_cm", "turns", " per cm"},
    {NODE_THREAD, "fiber", "fibre", ""},
    {NODE_THREAD, "material", "fibre", ""},
    {NODE_THREAD, "repeat", "period", ""},
    {NODE_THREAD, "length", "spool", ""},
    {NODE_THREAD, "cost", "price", ""},
    {NODE_THREAD, "preserve", "preserver", ""},
    {NODE_THREAD, "fill", "fullness", ""},
    {NODE_GUIDE, "feet", "foot", ""},
    {NODE_GUIDE, "wide", "width", ""},
    {NODE_GUIDE, "high", "height", ""},
    {NODE_GUIDE, "length", "foot", ""},
    {NODE_GUIDE, "foot_length", "foot", ""},
    {NODE_GUIDE, "space", "gap", ""},
    {NODE_GUIDE, "between", "gap", ""},
    {NODE_GUIDE, "foot_width", "width", ""},
    {NODE_GUIDE, "foot_height", "height", ""},
    {NODE_GUIDE, "thickness", "height", ""},
    {NODE_GUIDE, "taper", "ramp", ""},
    {NODE_GUIDE, "lead", "before", ""},
    {NODE_BENCH, "unit", "units", ""},
    {NODE_BENCH, "tail", "free", ""},
    {NODE_BENCH, "finish", "coats", ""},
    {NODE_BENCH, "rpm", "speed", ""},
    {NODE_PLACE, "room", "length", ""},
    {NODE_PLACE, "long", "length", ""},
    {NODE_PLACE, "to", "toward", ""},
    {NODE_PLACE, "width", "length", ""},
    {NODE_PLACE, "len", "length", ""},
    {NODE_PLACE, "direction", "toward", ""},
    {NODE_PLACE, "towards", "toward", ""},
    {NODE_PLACE, "ring", "guide", ""},
    {NODE_UNDER, "start", "offset", ""},
    {NODE_UNDER, "from", "offset", ""},
    {NODE_UNDER, "width", "length", ""},
    {NODE_BAND, "share", "weight", ""},
    {NODE_INLAY, "position", "at", ""},
    {NODE_INLAY, "where", "at", ""},
    {NODE_INLAY, "middle", "at", ""},
    {NODE_INLAY, "each", "every", ""},
    {NODE_FADE_TO, "count", "steps", ""},
    {NODE_FADE_TO, "stages", "steps", ""},
    {NODE_FADE_TO, "length", "over", ""},
    {NODE_FADE_TO, "even", "over", ""},
    {NODE_FADE_TO, "turns", "over", ""},
    {NODE_FADE_TO, "width", "over", ""},
    {NODE_CHEVRON, "crosses", "crossings", ""},
    {NODE_CHEVRON, "points", "crossings", ""},
    {NODE_CHEVRON, "repeats", "crossings", ""},
    {NODE_CHEVRON, "count", "crossings", ""},
    {NODE_CHEVRON, "number", "crossings", ""},
    {NODE_CHEVRON, "distance", "spacing", ""},
    {NODE_CHEVRON, "every", "spacing", ""},
    {NODE_CHEVRON, "pitch", "spacing", ""},
    {NODE_CHEVRON, "end", "ends", ""},
    {NODE_CHEVRON, "edges", "ends", ""},
    {NODE_CHEVRON, "bands", "ends", ""},
    {NODE_CHEVRON, "axes", "starts", ""},
    {NODE_CHEVRON, "background", "field", ""},
    {NODE_SPIRAL, "rounds", "turns", ""},
    {NODE_SPIRAL, "crossings", "turns", " turns"},
    {NODE_SPIRAL, "pitch", "lead", ""},
    {NODE_SPIRAL, "stripes", "starts", ""},
};

/* Kinds that share rows. */
static NodeKind row_kind(NodeKind owner)
{
    return owner == NODE_OVER      ? NODE_UNDER
           : owner == NODE_FADE_OF ? NODE_FADE_TO
           : owner == NODE_DIAMOND ? NODE_CHEVRON
                                   : owner;
}

OptionMeant option_by_other_word(NodeKind owner, const char *word)
{
    for (size_t i = 0; i < sizeof other_options / sizeof *other_options; i++)
        if (other_options[i].owner == row_kind(owner) && strcasecmp(other_options[i].word, word) == 0)
            return (OptionMeant){other_options[i].option, other_options[i].unit};
    return (OptionMeant){NULL, ""};
}

const char *option_for_type(NodeKind owner, const char *option, unsigned type)
{
    static const struct {
        NodeKind owner;
        const char *option;
        unsigned type;
        const char *other;
    } others[] = {
        {NODE_THREAD, "turns", TYPE_LENGTH, "diameter"},  {NODE_THREAD, "diameter", TYPE_RATE, "turns"},
        {NODE_THREAD, "size", TYPE_LENGTH, "diameter"},   {NODE_THREAD, "size", TYPE_RATE, "turns"},
        {NODE_THREAD, "tex", TYPE_LENGTH, "diameter"},    {NODE_THREAD, "tex", TYPE_RATE, "turns"},
        {NODE_FADE_TO, "steps", TYPE_LENGTH, "over"},     {NODE_CHEVRON, "crossings", TYPE_LENGTH, "spacing"},
        {NODE_CHEVRON, "crossings", TYPE_ANGLE, "angle"}, {NODE_CHEVRON, "spacing", TYPE_ANGLE, "angle"},
        {NODE_CHEVRON, "angle", TYPE_LENGTH, "spacing"},  {NODE_SPIRAL, "turns", TYPE_LENGTH, "lead"},
        {NODE_SPIRAL, "turns", TYPE_ANGLE, "angle"},      {NODE_SPIRAL, "lead", TYPE_TURNS, "turns"},
        {NODE_SPIRAL, "lead", TYPE_ANGLE, "angle"},       {NODE_SPIRAL, "angle", TYPE_LENGTH, "lead"},
        {NODE_SPIRAL, "angle", TYPE_TURNS, "turns"},      {NODE_THREAD, "price", TYPE_LENGTH, "spool"},
        {NODE_INLAY, "every", TYPE_RATIO, "at"},          {NODE_THREAD, "colour", TYPE_LIST, "colours"},
    };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (others[i].owner == row_kind(owner) && others[i].type == type && strcmp(others[i].option, option) == 0)
            return others[i].other;
    return NULL;
}

const char *owner_of_option(const char *word)
{
    for (NodeKind kind = 0; kind < NODE_KIND_COUNT; kind++) {
        const OptionRules *rules = option_rules(kind);
        for (uint32_t i = 0; rules && i < rules->count; i++)
            if (strcmp(rules->rules[i].name, word) == 0)
                return rules->owner;
    }
    return NULL;
}

const char *choice_by_other_word(const char *const *choices, const char *word)
{
    static const struct {
        const char *word, *choice;
    } others[] = {
        {"handle", "butt"},     {"grip", "butt"},      {"bottom", "butt"},    {"reel", "butt"},
        {"back", "butt"},       {"rear", "butt"},      {"lower", "butt"},     {"low", "butt"},
        {"top", "tip"},         {"up", "tip"},         {"upper", "tip"},      {"end", "tip"},
        {"front", "tip"},       {"forward", "tip"},    {"out", "tip"},        {"tiptop", "tip"},
        {"millimetres", "mm"},  {"millimeters", "mm"}, {"metric", "mm"},      {"centimetres", "cm"},
        {"centimeters", "cm"},  {"inch", "in"},        {"inches", "in"},      {"imperial", "in"},
        {"polyamide", "nylon"}, {"rayon", "viscose"},  {"poly", "polyester"}, {"shut", "closed"},
        {"full", "closed"},     {"filled", "closed"},  {"bare", "open"},      {"file", "source"},
        {"written", "source"},  {"clear", "open"},     {"nothing", "none"},   {"no", "none"},
        {"off", "none"},        {"pin", "pins"},       {"taped", "tape"},     {"down", "down"},
        {"me", "toward"},       {"towards", "toward"}, {"forwards", "away"},
    };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        for (int j = 0; choices[j] && strcasecmp(others[i].word, word) == 0; j++)
            if (strcmp(choices[j], others[i].choice) == 0)
                return choices[j];
    return NULL;
}
