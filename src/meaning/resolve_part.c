/* Names and kinds of the parts of a rod, and of their ends, which are lengths. */
#include "meaning/resolve_parts.h"

#include "meaning/convert.h"
#include "meaning/likely.h"
#include "meaning/mend.h"

#include <string.h>

static const char *const end_words[] = {"butt", "tip", NULL};

int part_end_named(const char *word)
{
    for (int i = 0; end_words[i]; i++)
        if (strcmp(word, end_words[i]) == 0)
            return i;
    return -1;
}

bool is_part_end(const Node *node)
{
    return node->kind == NODE_NAME && node->scope == SCOPE_LOCAL && module_name(node)
           && part_end_named(node->text->bytes) >= 0;
}

uint32_t part_enter(Resolver *resolver, const Text *name, Cause cause)
{
    local_enter(resolver, name, TYPE_NOTHING, cause);
    resolver->locals.items[resolver->locals.count - 1].part = true;
    uint32_t slot = 0;
    for (int i = 0; end_words[i]; i++) {
        const char *words = text_format(resolver->arena, "%s.%s", name->bytes, end_words[i]);
        uint32_t entered = local_enter(resolver, text_of_string(resolver->texts, words), TYPE_LENGTH, cause);
        slot = i ? slot : entered;
    }
    return slot;
}

/* Where a word says which end is meant without being its name. */
static const char *end_meant(Resolver *resolver, const char *word)
{
    static const char *const butt[] = {"butt", "start", "begin", "bottom", "back", "rear", "lower", "from", NULL};
    return nearest_word(resolver->findings->words, word, butt) ? "butt" : "tip";
}

/* What goes on until a part is met goes on to its near end; from that end itself to the other. */
static const char *end_met(const Resolver *resolver, const Local *part)
{
    const Node *mark = resolver->mark;
    bool own = mark && is_part_end(mark) && module_name(mark)->text == part->name;
    return own && part_end_named(mark->text->bytes) == 0 ? "tip" : "butt";
}

void report_part_as_value(Resolver *resolver, Node *node, const Local *part, TypeSet set, ValueSpot spot)
{
    uint64_t told = resolver->findings->told;
    const char *name = part->name->bytes;
    const Node *of = module_name(node);
    Finding *finding = of ? finding_add(resolver->findings, FINDING_UNKNOWN_NAME, node->span,
                                        "the ends of a part are `butt` and `tip`")
                          : finding_add(resolver->findings, FINDING_WRONG_KIND, node->span,
                                        "`%s` is a part of the rod, not a value", name);
    const char *otherwise = spot.part && strcmp(spot.part, "until") == 0 ? end_met(resolver, part) : "tip";
    const char *meant = of ? end_meant(resolver, node->text->bytes) : otherwise;
    finding_mend(resolver->findings, finding, "say which end: `%s.%s`, or `%s.%s`", name, meant, name,
                 strcmp(meant, "tip") == 0 ? "butt" : "tip");
    if (!set || set & SET(TYPE_LENGTH))
        finding_edit(resolver->findings, finding, node->span, "%s.%s", name, meant);
    resolve_broken(resolver, node, told);
}

static bool is_used_as(const Module *module, const Text *alias)
{
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (module->uses.items[i].alias == alias)
            return true;
    return false;
}

/* The name of a part here that is at most two slips off; NULL if there is none. */
static const char *nearest_part(const Resolver *resolver, const char *word)
{
    const char *nearest = NULL;
    unsigned best = 3;
    for (uint32_t i = resolver->locals.count; i > resolver->floor; i--) {
        const Local *local = &resolver->locals.items[i - 1];
        unsigned distance = local->part ? text_distance(word, local->name->bytes, best - 1) : best;
        if (distance >= best)
            continue;
        best = distance;
        nearest = local->name->bytes;
    }
    return nearest;
}

bool report_unknown_part(Resolver *resolver, Node *node)
{
    const Node *name = module_name(node);
    if (!name || part_end_named(node->text->bytes) < 0 || is_used_as(resolver->module, name->text))
        return false;
    uint64_t told = resolver->findings->told;
    const char *word = name->text->bytes;
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_NAME, name->span,
                                   "no part of the name `%s` is known here", word);
    const char *nearest = finding_is_kept(finding) ? nearest_part(resolver, word) : NULL;
    if (nearest) {
        finding_mend(resolver->findings, finding, "write `%s`", nearest);
        finding_edit(resolver->findings, finding, name->span, "%s", nearest);
    } else if (resolver->pattern_depth) {
        finding_mend(resolver->findings, finding,
                     "a pattern knows no parts of a rod: give it the length as an argument");
    } else {
        finding_mend(resolver->findings, finding,
                     "a part is known from where it stands on: put `part %s at ...` before this", word);
    }
    resolve_broken(resolver, node, told);
    return true;
}

/* The first end of a part in a value; NULL without any. Values are no deeper in one another than the limit. */
static const Node *part_end_in(const Node *value)
{
    for (; value; value = value->next) {
        if (is_part_end(value))
            return value;
        if (is_leaf(value))
            continue;
        bool call = value->kind == NODE_CALL; /* which has no second, and a function's name first */
        const Node *found = part_end_in(call ? value->options : value->first);
        if (!found && !call)
            found = part_end_in(value->second);
        if (found)
            return found;
    }
    return NULL;
}

void keep_ends_from_butt(Resolver *resolver, Node *mark, const Node *node, uint32_t from, uint32_t until)
{
    Node *option = option_node(node->options, from), *limit = option_value(node->options, until);
    if (!option || mark->cause || option_choice(node, from, 0) == 0)
        return;
    const Node *end = part_end_in(mark);
    end = end || !limit ? end : part_end_in(limit);
    if (!end)
        return;
    uint64_t told = resolver->findings->told;
    const char *name = written(resolver->findings->words, resolver->sources, end->span);
    Finding *finding = finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, option->span,
                                   "`%s` is measured from the butt", name);
    finding_relate(resolver->findings, finding, end->span, "an end of a part");
    const Node *guide = node->kind == NODE_PLACE ? option_node(node->options, PLACE_GUIDE) : NULL;
    const Node *last =
        guide && guide->span.start > mark->span.end && guide->span.end <= node->span.end ? guide : mark;
    bool own = option->span.start >= node->span.start && option->span.end <= node->span.end;
    finding_mend(resolver->findings, finding, own ? "take `from: tip` out" : "write `from: butt` with this one");
    if (own)
        edit_out(resolver->findings, finding, resolver->sources, option->span);
    else /* its series says it of all */
        finding_edit(resolver->findings, finding, behind(last->span), " from: butt");
    resolve_broken(resolver, mark, told);
}

void resolve_part(Resolver *resolver, Node *node, Within within)
{
    (void)within;
    want_at(resolver, node->second, SET(TYPE_LENGTH), "a part's mark", (ValueSpot){NODE_PART, SPOT_MARK});
    resolver->mark = node->second;
    resolve_options(resolver, node);
    resolver->mark = NULL;
    exclude(resolver, node, PART_LENGTH, PART_UNTIL);
    exclude(resolver, node, PART_UNTIL, PART_TOWARD);
    keep_ends_from_butt(resolver, node->second, node, PART_FROM, PART_UNTIL);
    node->slot = part_enter(resolver, node->first->text, cause_of_options(node));
}
