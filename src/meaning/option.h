/* The options of every statement and declaration, by the rules of option_table.h and bench_table.h. */
#ifndef TURNLAY_MEANING_OPTION_H
#define TURNLAY_MEANING_OPTION_H

#include "meaning/option_table.h"
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
