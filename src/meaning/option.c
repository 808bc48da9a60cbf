#include "meaning/option.h"

#include "meaning/bench_table.h"
#include "meaning/job.h"

#include <string.h>

static const char *const fibres[] = {
#define X(word, density) word,
    FIBRE_TABLE(X)
#undef X
        NULL};
static const char *const ends[] = {"butt", "tip", NULL};
static const char *const rotations[] = {"toward", "away", NULL};
#define WORD(name, word, ...) word,
static const char *const orders[] = {ORDER_TABLE(WORD) NULL};
static const char *const lines[] = {LINE_TABLE(WORD) NULL};
static const char *const drives[] = {DRIVE_TABLE(WORD) NULL};
static const char *const preferences[] = {PREFER_TABLE(WORD) NULL};
static const char *const end_holds[] = {HOLD_TABLE(WORD) NULL};
static const char *const fields[] = {"open", "closed", NULL};
static const char *const systems[] = {SYSTEM_TABLE(WORD) NULL};
static const char *const fade_choices[] = {FADE_BY_TABLE(WORD) NULL};
static const char *const sheens[] = {SHEEN_TABLE(WORD) NULL};

#define RULE(name, ...) {__VA_ARGS__},
static const OptionRule about_rules[] = {ABOUT_OPTIONS(RULE)};
static const OptionRule size_rules[] = {SIZE_OPTIONS(RULE)};
static const OptionRule thread_rules[] = {THREAD_OPTIONS(RULE)};
static const OptionRule bench_rules[BENCH_OPTION_COUNT] = {
#define NUMBER(name, word, type, ...) [BENCH_##name] = {word, SET(TYPE_##type), NULL, false},
#define CHOICE(name, word, choices) [BENCH_##name] = {word, SET(TYPE_WORD), choices, false},
#define SWITCH(name, word, ...) [BENCH_##name] = {word, SET(TYPE_TRUTH), NULL, false},
    BENCH_TABLE(NUMBER, CHOICE, SWITCH)
#undef NUMBER
#undef CHOICE
#undef SWITCH
};
static const OptionRule guide_rules[] = {GUIDE_OPTIONS(RULE)};
static const OptionRule rod_rules[] = {ROD_OPTIONS(RULE)};
static const OptionRule blank_rules[] = {BLANK_OPTIONS(RULE)};
static const OptionRule place_rules[] = {PLACE_OPTIONS(RULE)};
static const OptionRule series_rules[] = {PLACE_OPTIONS(RULE) SERIES_OPTIONS(RULE)};
static const OptionRule part_rules[] = {PART_OPTIONS(RULE)};
static const OptionRule layer_rules[] = {LAYER_OPTIONS(RULE)};
static const OptionRule band_rules[] = {BAND_OPTIONS(RULE)};
static const OptionRule inlay_rules[] = {INLAY_OPTIONS(RULE)};
static const OptionRule fade_rules[] = {FADE_OPTIONS(RULE)};
static const OptionRule crossing_rules[] = {CROSSWRAP_OPTIONS(RULE) CROSSING_OPTIONS(RULE)};
static const OptionRule spiral_rules[] = {CROSSWRAP_OPTIONS(RULE) SPIRAL_OPTIONS(RULE)};

#define FITS(table)                                                                                               \
    _Static_assert(sizeof(table) / sizeof *(table) <= OPTIONS_MOST, "more options than OPTIONS_MOST: raise it")
FITS(about_rules);
FITS(size_rules);
FITS(thread_rules);
FITS(bench_rules);
FITS(guide_rules);
FITS(rod_rules);
FITS(blank_rules);
FITS(place_rules);
FITS(series_rules);
FITS(part_rules);
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
    [NODE_ROD] = RULES("a rod", rod_rules),
    [NODE_BLANK] = RULES("a blank", blank_rules),
    [NODE_PLACE] = RULES("a place", place_rules),
    [NODE_SERIES] = RULES("a series", series_rules),
    [NODE_PART] = RULES("a part", part_rules),
    [NODE_UNDER] = RULES("a layer", layer_rules),
    [NODE_OVER] = RULES("a layer", layer_rules),
    [NODE_BAND] = RULES("a band", band_rules),
    [NODE_INLAY] = RULES("an inlay", inlay_rules),
    [NODE_FADE_TO] = RULES("a fade", fade_rules),
    [NODE_CHEVRON] = RULES("a chevron", crossing_rules),
    [NODE_DIAMOND] = {"a diamond", crossing_rules, CHEVRON_POINTING},
    [NODE_SPIRAL] = RULES("a spiral", spiral_rules),
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
