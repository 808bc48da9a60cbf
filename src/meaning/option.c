#include "meaning/option.h"

#include "meaning/bench_table.h"

#include <string.h>

static const char *const fibres[] = {"nylon",  "polyester",     "silk",   "viscose",
                                     "cotton", "polypropylene", "aramid", NULL};
static const char *const ends[] = {"butt", "tip", NULL};
static const char *const rotations[] = {"toward", "away", NULL};
static const char *const orders[] = {"source", "butt", "tip", NULL};
static const char *const end_holds[] = {"tape", "pins", "none", NULL};
static const char *const fields[] = {"open", "closed", NULL};
static const char *const builds[] = {"up", "down", NULL};
static const char *const systems[] = {"mm", "cm", "in", NULL};

static const OptionRule about_rules[] = {
    [ABOUT_TITLE] = {"title", SET(TYPE_TEXT), NULL, false},
    [ABOUT_AUTHOR] = {"author", SET(TYPE_TEXT), NULL, false},
    [ABOUT_VERSION] = {"version", SET(TYPE_TEXT), NULL, false},
    [ABOUT_LICENCE] = {"licence", SET(TYPE_TEXT), NULL, false},
};
static const OptionRule size_rules[] = {
    [SIZE_DIAMETER] = {"diameter", SET(TYPE_LENGTH), NULL, true},
    [SIZE_UNCERTAINTY] = {"uncertainty", SET(TYPE_RATIO), NULL, false},
};
static const OptionRule thread_rules[] = {
    [THREAD_TURNS] = {"turns", SET(TYPE_RATE), NULL, false},
    [THREAD_DIAMETER] = {"diameter", SET(TYPE_LENGTH), NULL, false},
    [THREAD_SIZE] = {"size", SET(TYPE_WORD), NULL, false},
    [THREAD_TEX] = {"tex", SET(TYPE_RATIO), NULL, false},
    [THREAD_FIBRE] = {"fibre", SET(TYPE_WORD), fibres, false},
    [THREAD_FULLNESS] = {"fullness", SET(TYPE_RATIO), NULL, false},
    [THREAD_PACKING] = {"packing", SET(TYPE_RATIO), NULL, false},
    [THREAD_UNCERTAINTY] = {"uncertainty", SET(TYPE_RATIO), NULL, false},
    [THREAD_COLOUR] = {"colour", SET(TYPE_COLOUR), NULL, false},
    [THREAD_BARE] = {"bare", SET(TYPE_COLOUR), NULL, false},
    [THREAD_COLOURS] = {"colours", SET(TYPE_LIST + TYPE_COLOUR), NULL, false},
    [THREAD_PERIOD] = {"period", SET(TYPE_LENGTH), NULL, false},
    [THREAD_PRESERVER] = {"preserver", SET(TYPE_TRUTH), NULL, false},
    [THREAD_STOCK] = {"stock", SET(TYPE_LENGTH), NULL, false},
    [THREAD_SPOOL] = {"spool", SET(TYPE_LENGTH), NULL, false},
    [THREAD_PRICE] = {"price", SET(TYPE_RATIO), NULL, false},
};
static const OptionRule bench_rules[BENCH_OPTION_COUNT] = {
#define NUMBER(name, word, type, ...) [BENCH_##name] = {word, SET(TYPE_##type), NULL, false},
#define CHOICE(name, word, choices) [BENCH_##name] = {word, SET(TYPE_WORD), choices, false},
#define SWITCH(name, word, ...) [BENCH_##name] = {word, SET(TYPE_TRUTH), NULL, false},
    BENCH_TABLE(NUMBER, CHOICE, SWITCH)
#undef NUMBER
#undef CHOICE
#undef SWITCH
};
static const OptionRule guide_rules[] = {
    [GUIDE_FOOT] = {"foot", SET(TYPE_LENGTH) | SET(TYPE_LIST + TYPE_LENGTH), NULL, true},
    [GUIDE_GAP] = {"gap", SET(TYPE_LENGTH), NULL, false},
    [GUIDE_SIDE] = {"side", SET(TYPE_WORD), ends, false},
    [GUIDE_WIDTH] = {"width", SET(TYPE_LENGTH), NULL, false},
    [GUIDE_HEIGHT] = {"height", SET(TYPE_LENGTH), NULL, false},
    [GUIDE_RAMP] = {"ramp", SET(TYPE_LENGTH), NULL, false},
    [GUIDE_BEFORE] = {"before", SET(TYPE_LENGTH), NULL, false},
};
static const OptionRule place_rules[] = {
    [PLACE_FROM] = {"from", SET(TYPE_WORD), ends, false},
    [PLACE_TOWARD] = {"toward", SET(TYPE_WORD), ends, false},
    [PLACE_LENGTH] = {"length", SET(TYPE_LENGTH), NULL, false},
    [PLACE_GUIDE] = {"guide", SET(TYPE_GUIDE), NULL, false},
};
static const OptionRule layer_rules[] = {
    [LAYER_OFFSET] = {"offset", SET(TYPE_LENGTH), NULL, false},
    [LAYER_LENGTH] = {"length", SET(TYPE_LENGTH), NULL, false},
};
static const OptionRule band_rules[] = {
    [BAND_WEIGHT] = {"weight", SET(TYPE_RATIO), NULL, false},
    [BAND_MEASURED] = {"measured", SET(TYPE_LENGTH), NULL, false},
};
static const OptionRule inlay_rules[] = {
    [INLAY_AT] = {"at", SET(TYPE_RATIO) | SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false},
    [INLAY_EVERY] = {"every", SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false},
};
static const OptionRule fade_rules[] = {
    [FADE_OPTION_STEPS] = {"steps", SET(TYPE_COUNT), NULL, false},
    [FADE_OPTION_OVER] = {"over", SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false},
    [FADE_OPTION_RUNS] = {"runs", SET(TYPE_LIST + TYPE_PAIR), NULL, false},
};
/* Those that all crosswraps share come first, then those of chevrons and diamonds, then the chevron's own. */
static const OptionRule crossing_rules[] = {
    [CROSSWRAP_ENDS] = {"ends", SET(TYPE_TURNS) | SET(TYPE_LENGTH), NULL, false},
    [CROSSWRAP_ANGLE] = {"angle", SET(TYPE_ANGLE), NULL, false},
    [CROSSWRAP_STARTS] = {"starts", SET(TYPE_COUNT), NULL, false},
    [CROSSWRAP_FIELD] = {"field", SET(TYPE_WORD), fields, false},
    [CROSSWRAP_CROSSINGS] = {"crossings", SET(TYPE_COUNT), NULL, false},
    [CROSSWRAP_SPACING] = {"spacing", SET(TYPE_LENGTH), NULL, false},
    [CROSSWRAP_LEADS] = {"leads", SET(TYPE_LIST + TYPE_COUNT), NULL, false},
    [CROSSWRAP_FACING] = {"facing", SET(TYPE_COUNT), NULL, false},
    [CHEVRON_BUILD] = {"build", SET(TYPE_WORD), builds, false},
};
static const OptionRule spiral_rules[] = {
    [CROSSWRAP_ENDS] = {"ends", SET(TYPE_TURNS) | SET(TYPE_LENGTH), NULL, false},
    [CROSSWRAP_ANGLE] = {"angle", SET(TYPE_ANGLE), NULL, false},
    [CROSSWRAP_STARTS] = {"starts", SET(TYPE_COUNT), NULL, false},
    [CROSSWRAP_FIELD] = {"field", SET(TYPE_WORD), fields, false},
    [SPIRAL_TURNS] = {"turns", SET(TYPE_TURNS), NULL, false},
    [SPIRAL_LEAD] = {"lead", SET(TYPE_LENGTH), NULL, false},
};

#define FITS(table)                                                                                               \
    _Static_assert(sizeof(table) / sizeof *(table) <= OPTIONS_MOST, "more options than OPTIONS_MOST: raise it")
FITS(about_rules);
FITS(size_rules);
FITS(thread_rules);
FITS(bench_rules);
FITS(guide_rules);
FITS(place_rules);
FITS(layer_rules);
FITS(band_rules);
FITS(inlay_rules);
FITS(fade_rules);
FITS(crossing_rules);
FITS(spiral_rules);

#define RULES(owner, table)                                                                                       \
    {                                                                                                             \
        owner, table, sizeof(table) / sizeof *(table)                                                             \
    }
static const OptionRules rules_of[NODE_KIND_COUNT] = {
    [NODE_ABOUT] = RULES("about", about_rules),
    [NODE_SIZE] = RULES("a size", size_rules),
    [NODE_THREAD] = RULES("a thread", thread_rules),
    [NODE_BENCH] = RULES("the bench", bench_rules),
    [NODE_GUIDE] = RULES("a guide", guide_rules),
    [NODE_PLACE] = RULES("a place", place_rules),
    [NODE_UNDER] = RULES("a layer", layer_rules),
    [NODE_OVER] = RULES("a layer", layer_rules),
    [NODE_BAND] = RULES("a band", band_rules),
    [NODE_INLAY] = RULES("an inlay", inlay_rules),
    [NODE_FADE_TO] = RULES("a fade", fade_rules),
    [NODE_CHEVRON] = RULES("a chevron", crossing_rules),
    [NODE_DIAMOND] = {"a diamond", crossing_rules, CHEVRON_BUILD},
    [NODE_SPIRAL] = RULES("a spiral", spiral_rules),
    /* A fade of a list has no runs of its own. */
    [NODE_FADE_OF] = {"a fade of several threads", fade_rules, FADE_OPTION_RUNS},
};

const Node *list_broken(const Node *list)
{
    while (list && list->kind != NODE_BROKEN)
        list = list->next;
    return list;
}

uint32_t cause_of_options(const Node *node)
{
    uint32_t cause = node->cause;
    for (const Node *option = node->options; option && !cause; option = option->next)
        cause = option->cause ? option->cause : option->first ? option->first->cause : 0;
    return cause;
}

const OptionRules *option_rules(NodeKind kind) { return rules_of[kind].rules ? &rules_of[kind] : NULL; }

Node *option_node(const Node *options, uint32_t rule)
{
    for (const Node *option = options; option; option = option->next)
        if (option->kind == NODE_OPTION && option->slot == rule)
            return (Node *)option;
    return NULL;
}

Node *option_value(const Node *options, uint32_t rule)
{
    Node *option = option_node(options, rule);
    return option ? option->first : NULL;
}

int option_choice(const Node *owner, uint32_t rule, int otherwise)
{
    const Node *value = option_value(owner->options, rule);
    const char *const *choices = rules_of[owner->kind].rules[rule].choices;
    for (int i = 0; value && value->kind == NODE_NAME && choices[i]; i++)
        if (strcmp(choices[i], value->text->bytes) == 0)
            return i;
    return otherwise;
}
