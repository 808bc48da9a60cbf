/* The options of every statement and declaration: one table of rules each. */
#ifndef TURNLAY_MEANING_OPTION_H
#define TURNLAY_MEANING_OPTION_H

#include "meaning/type.h"

typedef struct OptionRule {
    const char *name;
    TypeSet types;              /* what its value may be; SET(TYPE_WORD): a choice or a size's name */
    const char *const *choices; /* NULL-terminated; NULL: not a choice */
    bool required;
} OptionRule;

typedef struct OptionRules {
    const char *owner; /* "a thread" */
    const OptionRule *rules;
    uint32_t count;
} OptionRules;

/* Most options that a statement or declaration may have. */
enum { OPTIONS_MOST = 64 };
enum { ABOUT_TITLE, ABOUT_AUTHOR, ABOUT_VERSION, ABOUT_LICENCE };
enum { SIZE_DIAMETER, SIZE_UNCERTAINTY };
enum {
    THREAD_TURNS,
    THREAD_DIAMETER,
    THREAD_SIZE,
    THREAD_TEX,
    THREAD_FIBRE,
    THREAD_FULLNESS,
    THREAD_PACKING,
    THREAD_UNCERTAINTY,
    THREAD_COLOUR,
    THREAD_BARE,
    THREAD_COLOURS,
    THREAD_PERIOD,
    THREAD_PRESERVER,
    THREAD_STOCK,
    THREAD_SPOOL,
    THREAD_PRICE
};
enum { GUIDE_FOOT, GUIDE_GAP, GUIDE_SIDE, GUIDE_WIDTH, GUIDE_HEIGHT, GUIDE_RAMP, GUIDE_BEFORE };
enum { PLACE_FROM, PLACE_TOWARD, PLACE_LENGTH, PLACE_GUIDE };
enum { LAYER_OFFSET, LAYER_LENGTH };
enum { BAND_WEIGHT, BAND_MEASURED };
enum { INLAY_AT, INLAY_EVERY };
enum { FADE_OPTION_STEPS, FADE_OPTION_OVER, FADE_OPTION_RUNS };
enum {
    CROSSWRAP_ENDS,
    CROSSWRAP_ANGLE,
    CROSSWRAP_STARTS,
    CROSSWRAP_FIELD,
    CROSSWRAP_CROSSINGS,
    CROSSWRAP_SPACING,
    CROSSWRAP_LEADS,
    CROSSWRAP_FACING,
    CHEVRON_BUILD
};
enum { SPIRAL_TURNS = CROSSWRAP_FIELD + 1, SPIRAL_LEAD };
/* The bench's are in bench_table.h. */

/* What in the list could not be read, or NULL: what is missing then is no fault of its own. */
const Node *list_broken(const Node *list);
/* Why the node, or one of its options or their values, is broken or dropped; 0 if nothing is. */
uint32_t cause_of_options(const Node *node);
/* The rules for a node's kind; NULL for kinds without options. */
const OptionRules *option_rules(NodeKind kind);
/* The value of an option by its number in the table, or NULL. Valid once the options are checked. */
Node *option_value(const Node *options, uint32_t rule);
/* The option itself. */
Node *option_node(const Node *options, uint32_t rule);
/* Which of the rule's choices the option's word is; `otherwise` if it is not written. */
int option_choice(const Node *owner, uint32_t rule, int otherwise);

#endif
