#include "meaning/option_meant.h"

#include <string.h>
#include <strings.h>

static const struct {
    NodeKind owner;
    const char *word, *option, *unit;
    double factor; /* of the number */
} other_options[] = {
    {NODE_ABOUT, "name", "title", "", 1},
    {NODE_ABOUT, "by", "author", "", 1},
    {NODE_ABOUT, "license", "licence", "", 1},
    {NODE_SIZE, "dia", "diameter", "", 1},
    {NODE_SIZE, "width", "diameter", "", 1},
    {NODE_SIZE, "thickness", "diameter", "", 1},
    {NODE_SIZE, "tolerance", "uncertainty", "", 1},
    {NODE_THREAD, "color", "colour", "", 1},
    {NODE_THREAD, "shade", "colour", "", 1},
    {NODE_THREAD, "hex", "colour", "", 1},
    {NODE_THREAD, "rgb", "colour", "", 1},
    {NODE_THREAD, "colors", "colours", "", 1},
    {NODE_THREAD, "dia", "diameter", "", 1},
    {NODE_THREAD, "width", "diameter", "", 1},
    {NODE_THREAD, "thickness", "diameter", "", 1},
    {NODE_THREAD, "pitch", "diameter", "", 1},
    {NODE_THREAD, "wraps", "turns", "", 1},
    {NODE_THREAD, "count", "turns", "", 1},
    {NODE_THREAD, "rate", "turns", "", 1},
    {NODE_THREAD, "density", "turns", "", 1},
    {NODE_THREAD, "tpi", "turns", " per in", 1},
    {NODE_THREAD, "wpi", "turns", " per in", 1},
    {NODE_THREAD, "turns_per_inch", "turns", " per in", 1},
    {NODE_THREAD, "turns_per_in", "turns", " per in", 1},
    {NODE_THREAD, "tpcm", "turns", " per cm", 1},
    {NODE_THREAD, "tpc", "turns", " per cm", 1},
    {NODE_THREAD, "turns_per_cm", "turns", " per cm", 1},
    {NODE_THREAD, "fiber", "fibre", "", 1},
    {NODE_THREAD, "material", "fibre", "", 1},
    {NODE_THREAD, "repeat", "period", "", 1},
    {NODE_THREAD, "length", "spool", "", 1},
    {NODE_THREAD, "cost", "price", "", 1},
    {NODE_THREAD, "preserve", "preserver", "", 1},
    {NODE_THREAD, "fill", "fullness", "", 1},
    {NODE_THREAD, "alpha", "opacity", "", 1},
    {NODE_THREAD, "opaque", "opacity", "", 1},
    {NODE_THREAD, "cover", "opacity", "", 1},
    {NODE_THREAD, "finish", "sheen", "", 1},
    {NODE_THREAD, "shine", "sheen", "", 1},
    {NODE_THREAD, "lustre", "sheen", "", 1},
    {NODE_THREAD, "sku", "code", "", 1},
    {NODE_THREAD, "number", "code", "", 1},
    {NODE_THREAD, "article", "code", "", 1},
    {NODE_GUIDE, "feet", "foot", "", 1},
    {NODE_GUIDE, "wide", "width", "", 1},
    {NODE_GUIDE, "high", "height", "", 1},
    {NODE_GUIDE, "length", "foot", "", 1},
    {NODE_GUIDE, "foot_length", "foot", "", 1},
    {NODE_GUIDE, "space", "gap", "", 1},
    {NODE_GUIDE, "between", "gap", "", 1},
    {NODE_GUIDE, "foot_width", "width", "", 1},
    {NODE_GUIDE, "foot_height", "height", "", 1},
    {NODE_GUIDE, "thickness", "height", "", 1},
    {NODE_GUIDE, "taper", "ramp", "", 1},
    {NODE_GUIDE, "lead", "before", "", 1},
    {NODE_GUIDE, "ring_size", "ring", "", 1},
    {NODE_GUIDE, "diameter", "ring", "", 1},
    {NODE_GUIDE, "size", "ring", "", 1},
    {NODE_GUIDE, "stand", "tall", "", 1},
    {NODE_GUIDE, "ring_height", "tall", "", 1},
    {NODE_GUIDE, "colour", "frame", "", 1},
    {NODE_GUIDE, "color", "frame", "", 1},
    {NODE_GUIDE, "frame_colour", "frame", "", 1},
    {NODE_GUIDE, "ring_colour", "insert", "", 1},
    {NODE_GUIDE, "inlay", "insert", "", 1},
    {NODE_GUIDE, "finish", "sheen", "", 1},
    {NODE_GUIDE, "shine", "sheen", "", 1},
    {NODE_BENCH, "unit", "units", "", 1},
    {NODE_BENCH, "tail", "free", "", 1},
    {NODE_BENCH, "tag", "free", "", 1},
    {NODE_BENCH, "tags", "free", "", 1},
    {NODE_BENCH, "finish", "coats", "", 1},
    {NODE_BENCH, "rpm", "speed", "", 1},
    {NODE_BENCH, "ruler", "rule", "", 1},
    {NODE_BENCH, "tape_measure", "rule", "", 1},
    {NODE_BENCH, "caliper", "callipers", "", 1},
    {NODE_BENCH, "calipers", "callipers", "", 1},
    {NODE_BENCH, "vernier", "callipers", "", 1},
    {NODE_BENCH, "degrease", "clean", "", 1},
    {NODE_BENCH, "axis", "line", "", 1},
    {NODE_BENCH, "spindle", "drive", "", 1},
    {NODE_BENCH, "motor", "drive", "", 1},
    {NODE_BENCH, "clutch", "brake", "", 1},
    {NODE_BENCH, "preference", "prefer", "", 1},
    {NODE_BENCH, "spare", "prefer", "", 1},
    {NODE_BENCH, "save", "prefer", "", 1},
    {NODE_BENCH, "shuttles", "bobbins", "", 1},
    {NODE_BENCH, "small_spools", "bobbins", "", 1},
    {NODE_BENCH, "eye", "sight", "", 1},
    {NODE_BENCH, "eyesight", "sight", "", 1},
    {NODE_BENCH, "acuity", "sight", "", 1},
    {NODE_BENCH, "close", "near", "", 1},
    {NODE_BENCH, "distance", "far", "", 1},
    {NODE_BENCH, "away", "far", "", 1},
    {NODE_ROD, "joint", "overlap", "", 1},
    {NODE_ROD, "joints", "overlap", "", 1},
    {NODE_ROD, "lap", "overlap", "", 1},
    {NODE_ROD, "ferrule", "overlap", "", 1},
    {NODE_ROD, "spigot", "overlap", "", 1},
    {NODE_ROD, "sleeve", "overlap", "", 1},
    {NODE_ROD, "inner", "inside", "", 1},
    /* a series shares the rows of a place: its own come first */
    {NODE_SERIES, "number", "count", "", 1},
    {NODE_SERIES, "places", "count", "", 1},
    {NODE_SERIES, "growth", "progression", "", 1},
    {NODE_SERIES, "ratio", "progression", "", 1},
    {NODE_SERIES, "factor", "progression", "", 1},
    {NODE_SERIES, "rings", "guides", "", 1},
    {NODE_SERIES, "start", "first", "", 1},
    {NODE_SERIES, "end", "last", "", 1},
    {NODE_SERIES, "to", "last", "", 1},
    {NODE_PLACE, "room", "length", "", 1},
    {NODE_PLACE, "long", "length", "", 1},
    {NODE_PLACE, "to", "toward", "", 1},
    {NODE_PLACE, "width", "length", "", 1},
    {NODE_PLACE, "len", "length", "", 1},
    {NODE_PLACE, "for", "length", "", 1},
    {NODE_PLACE, "over", "length", "", 1},
    {NODE_PLACE, "size", "length", "", 1},
    {NODE_PLACE, "direction", "toward", "", 1},
    {NODE_PLACE, "towards", "toward", "", 1},
    {NODE_PLACE, "ring", "guide", "", 1},
    {NODE_PLACE, "rotation", "angle", "", 1},
    {NODE_PLACE, "degrees", "angle", "", 1},
    {NODE_PLACE, "deg", "angle", "", 1},
    {NODE_PLACE, "orientation", "angle", "", 1},
    {NODE_PLACE, "turn", "angle", "", 1},
    {NODE_PLACE, "twist", "angle", "", 1},
    {NODE_PLACE, "roll", "angle", "", 1},
    {NODE_PLACE, "round", "angle", "", 1},
    {NODE_PLACE, "clock", "angle", "", 1},
    {NODE_PLACE, "turned", "angle", "", 1},
    {NODE_PLACE, "up_to", "until", "", 1},
    {NODE_PLACE, "till", "until", "", 1},
    {NODE_PLACE, "end", "until", "", 1},
    {NODE_PART, "to", "until", "", 1},
    {NODE_PART, "up_to", "until", "", 1},
    {NODE_PART, "till", "until", "", 1},
    {NODE_PART, "end", "until", "", 1},
    {NODE_PART, "long", "length", "", 1},
    {NODE_PART, "len", "length", "", 1},
    {NODE_PART, "width", "length", "", 1},
    {NODE_PART, "direction", "toward", "", 1},
    {NODE_PART, "towards", "toward", "", 1},
    {NODE_PART, "dia", "diameter", "", 1},
    {NODE_PART, "diameters", "diameter", "", 1},
    {NODE_PART, "thickness", "diameter", "", 1},
    {NODE_PART, "thick", "diameter", "", 1},
    {NODE_PART, "od", "diameter", "", 1},
    {NODE_PART, "color", "colour", "", 1},
    {NODE_PART, "hex", "colour", "", 1},
    {NODE_PART, "finish", "sheen", "", 1},
    {NODE_PART, "shine", "sheen", "", 1},
    {NODE_PART, "text", "note", "", 1},
    {NODE_PART, "label", "note", "", 1},
    {NODE_PART, "words", "note", "", 1},
    {NODE_PART, "comment", "note", "", 1},
    {NODE_PART, "slide", "slides", "", 1},
    {NODE_PART, "sliding", "slides", "", 1},
    {NODE_PART, "slides_on", "slides", "", 1},
    {NODE_PART, "bored", "slides", "", 1},
    {NODE_PART, "wrap", "wrapped", "", 1},
    {NODE_PART, "wrapped_over", "wrapped", "", 1},
    {NODE_PART, "under", "wrapped", "", 1},
    {NODE_UNDER, "start", "offset", "", 1},
    {NODE_UNDER, "from", "offset", "", 1},
    {NODE_UNDER, "width", "length", "", 1},
    {NODE_UNDER, "shift", "offset", "", 1},
    {NODE_UNDER, "inset", "offset", "", 1},
    {NODE_UNDER, "at", "offset", "", 1},
    {NODE_BAND, "share", "weight", "", 1},
    {NODE_INLAY, "position", "at", "", 1},
    {NODE_INLAY, "pos", "at", "", 1},
    {NODE_INLAY, "where", "at", "", 1},
    {NODE_INLAY, "middle", "at", "", 1},
    {NODE_INLAY, "each", "every", "", 1},
    {NODE_INLAY, "spacing", "every", "", 1},
    {NODE_INLAY, "apart", "every", "", 1},
    {NODE_INLAY, "distance", "every", "", 1},
    {NODE_FADE_TO, "count", "steps", "", 1},
    {NODE_FADE_TO, "stages", "steps", "", 1},
    {NODE_FADE_TO, "length", "over", "", 1},
    {NODE_FADE_TO, "even", "over", "", 1},
    {NODE_FADE_TO, "across", "over", "", 1},
    {NODE_FADE_TO, "turns", "over", "", 1},
    {NODE_FADE_TO, "width", "over", "", 1},
    {NODE_FADE_TO, "chosen", "by", "", 1},
    {NODE_FADE_TO, "choose", "by", "", 1},
    {NODE_FADE_TO, "judged", "by", "", 1},
    {NODE_FADE_TO, "for", "by", "", 1},
    {NODE_FADE_TO, "using", "by", "", 1},
    {NODE_CHEVRON, "direction", "pointing", "", 1},
    {NODE_CHEVRON, "crosses", "crossings", "", 1},
    {NODE_CHEVRON, "points", "crossings", "", 1},
    {NODE_CHEVRON, "repeats", "crossings", "", 1},
    {NODE_CHEVRON, "count", "crossings", "", 1},
    {NODE_CHEVRON, "turns", "crossings", "", 1},
    {NODE_CHEVRON, "lead", "spacing", "", 1},
    {NODE_CHEVRON, "number", "crossings", "", 1},
    {NODE_CHEVRON, "distance", "spacing", "", 1},
    {NODE_CHEVRON, "every", "spacing", "", 1},
    {NODE_CHEVRON, "pitch", "spacing", "", 1},
    {NODE_CHEVRON, "end", "ends", "", 1},
    {NODE_CHEVRON, "edges", "ends", "", 1},
    {NODE_CHEVRON, "bands", "ends", "", 1},
    {NODE_CHEVRON, "axes", "starts", "", 0.5}, /* a bundle crosses on two */
    {NODE_CHEVRON, "strands", "starts", "", 1},
    {NODE_CHEVRON, "background", "field", "", 1},
    {NODE_SPIRAL, "strands", "starts", "", 1},
    {NODE_SPIRAL, "rounds", "turns", "", 1},
    {NODE_SPIRAL, "wraps", "turns", "", 1},
    {NODE_SPIRAL, "spacing", "lead", "", 1},
    {NODE_SPIRAL, "crossings", "turns", " turns", 1},
    {NODE_SPIRAL, "pitch", "lead", "", 1},
    {NODE_SPIRAL, "stripes", "starts", "", 1},
};

/* Kinds that share rows. */
static NodeKind row_kind(NodeKind owner)
{
    return owner == NODE_OVER      ? NODE_UNDER
           : owner == NODE_SERIES  ? NODE_PLACE
           : owner == NODE_FADE_OF ? NODE_FADE_TO
           : owner == NODE_DIAMOND ? NODE_CHEVRON
                                   : owner;
}

OptionMeant option_by_other_word(NodeKind owner, const char *word)
{
    for (size_t i = 0; i < sizeof other_options / sizeof *other_options; i++)
        if ((other_options[i].owner == owner || other_options[i].owner == row_kind(owner))
            && strcasecmp(other_options[i].word, word) == 0)
            return (OptionMeant){other_options[i].option, other_options[i].unit, other_options[i].factor};
    return (OptionMeant){NULL, "", 1};
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
        if ((others[i].owner == owner || others[i].owner == row_kind(owner)) && others[i].type == type
            && strcmp(others[i].option, option) == 0)
            return others[i].other;
    return NULL;
}

const char *owner_of_option(const char *word)
{
    const char *part = NULL; /* who asks for a colour or a diameter means a thread's sooner than a part's */
    for (NodeKind kind = 0; kind < NODE_KIND_COUNT; kind++) {
        const OptionRules *rules = option_rules(kind);
        for (uint32_t i = 0; rules && i < rules->count; i++) {
            if (strcmp(rules->rules[i].name, word) != 0)
                continue;
            if (kind != NODE_PART)
                return rules->owner;
            part = rules->owner;
        }
    }
    return part;
}

const char *choice_by_other_word(const char *const *choices, const char *word)
{
    static const struct {
        const char *word, *choice;
    } others[] = {
        {"handle", "butt"},    {"grip", "butt"},       {"bottom", "butt"},    {"reel", "butt"},
        {"back", "butt"},      {"rear", "butt"},       {"lower", "butt"},     {"low", "butt"},
        {"up", "tip"},         {"upper", "tip"},       {"end", "tip"},        {"front", "tip"},
        {"forward", "tip"},    {"tiptop", "tip"},      {"tip_top", "tip"},    {"butt_end", "butt"},
        {"tip_end", "tip"},    {"millimetres", "mm"},  {"millimeters", "mm"}, {"metric", "mm"},
        {"centimetres", "cm"}, {"centimeters", "cm"},  {"inch", "in"},        {"inches", "in"},
        {"imperial", "in"},    {"polyamide", "nylon"}, {"rayon", "viscose"},  {"poly", "polyester"},
        {"shut", "closed"},    {"full", "closed"},     {"filled", "closed"},  {"bare", "open"},
        {"file", "source"},    {"written", "source"},  {"clear", "open"},     {"nothing", "none"},
        {"no", "none"},        {"off", "none"},        {"pin", "pins"},       {"taped", "tape"},
        {"me", "toward"},      {"towards", "toward"},  {"forwards", "away"},  {"shiny", "gloss"},
        {"glossy", "gloss"},   {"bright", "gloss"},    {"matte", "matt"},     {"dull", "matt"},
        {"satin", "matt"},     {"flat", "matt"},       {"metal", "metallic"}, {"chrome", "metallic"},
        {"foil", "metallic"},  {"foot", "pedal"},      {"motor", "pedal"},    {"crank", "hand"},
        {"cuts", "ends"},      {"pieces", "ends"},     {"fast", "time"},      {"minutes", "time"},
        {"waste", "thread"},   {"length", "thread"},   {"yes", "eye"},        {"no", "count"},
        {"sight", "eye"},      {"eyes", "eye"},        {"look", "eye"},       {"looks", "eye"},
        {"vision", "eye"},     {"smooth", "eye"},      {"even", "eye"},       {"colour", "eye"},
        {"color", "eye"},      {"numbers", "count"},   {"counts", "count"},   {"counting", "count"},
    };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        for (int j = 0; choices[j] && strcasecmp(others[i].word, word) == 0; j++)
            if (strcmp(choices[j], others[i].choice) == 0)
                return choices[j];
    return NULL;
}
