/* Names and kinds of places and layers. */
#include "meaning/resolve_parts.h"

#include "meaning/content.h"
#include "meaning/convert.h"
#include "meaning/evaluate.h"
#include "meaning/likely.h"
#include "meaning/mend.h"

#include <string.h>
#include <strings.h>

/* A length as it is written; NULL if it is not a plain one. */
static const Node *length_written(const Node *options, uint32_t rule)
{
    const Node *length = option_value(options, rule);
    return length && length->kind == NODE_NUMBER && unit_measure((Unit)length->detail) == MEASURE_LENGTH ? length
                                                                                                         : NULL;
}

void resolve_layer(Resolver *resolver, Node *layer, Within within)
{
    (void)within;
    resolve_options(resolver, layer);
    const Node *place = resolver->room, *own = length_written(layer->options, LAYER_LENGTH);
    resolver->room = own ? own : place;
    check_body(resolver, layer->body, IN_LAYER);
    resolver->room = place;
}

/* The mend puts the statements that stand in no layer into one, up to the next layer: below it, where that is a
 * crosswrap; those in loops and cases are left where they stand. */
static void report_mixed(Resolver *resolver, Node *body, Node *layer, Node *statement)
{
    bool layer_first = layer->span.start < statement->span.start,
         below = !layer_first && content_of_statement(layer) & HOLDS_CROSSWRAP;
    Finding *finding =
        not_here(resolver, layer_first ? statement : layer,
                 "beside `over`, `under` or a crosswrap all turns of a place stand in layers",
                 below ? "put these turns into `under { ... }`" : "put these turns into `over { ... }`");
    finding_relate(resolver->findings, finding, layer_first ? layer->span : statement->span,
                   layer_first ? "a layer" : "turns in no layer");
    const Node *first = body;
    while (first && first != statement)
        first = first->next;
    if (!first)
        return;
    const Node *last = first;
    for (const Node *node = first; node; node = node->next) {
        if (content_of_statement(node) & (HOLDS_LAYERS | HOLDS_CROSSWRAP))
            break;
        last = node;
    }
    Span all = span_join(first->span, last->span);
    finding_edit(resolver->findings, finding, all, below ? "under { %s }" : "over { %s }",
                 written(resolver->findings->words, resolver->sources, all));
}

/* Whether each of the statements makes a layer of the place, or all of them one together. A crosswrap in a loop,
 * case or pattern alone is wound in that one. */
static bool is_layered(const Node *body)
{
    if (content_of(body) & HOLDS_LAYERS)
        return true;
    const Node *node = body;
    while (node && node->kind != NODE_CHEVRON && node->kind != NODE_DIAMOND && node->kind != NODE_SPIRAL)
        node = node->next;
    return node;
}

static void keep_layers_apart(Resolver *resolver, Node *body)
{
    Node *layer = (Node *)content_first(body, HOLDS_LAYERS | HOLDS_CROSSWRAP),
         *statement = (Node *)content_first(body, HOLDS_TURNS);
    if (layer && statement && is_layered(body) && !list_broken(body))
        report_mixed(resolver, body, layer, statement);
}

uint32_t slot_of_place(Resolver *resolver, Node *statements)
{
    keep_layers_apart(resolver, statements);
    return (is_layered(statements) ? (uint32_t)PLACE_LAYERED : 0)
           | (resolver->reads & READS_FOOT ? (uint32_t)PLACE_EACH_FOOT : 0);
}

/* All that lays any of these, within loops and cases too, is left out for this cause. */
static void leave_out(Resolver *resolver, Node *statements, unsigned content, Cause cause)
{
    for (Node *node = statements; node; node = node->next) {
        if (node->kind == NODE_FOR || node->kind == NODE_IF || node->kind == NODE_BLOCK)
            leave_out(resolver, node->body, content, cause);
        else if (content_of_statement(node) & content) {
            node->cause = node->cause ? node->cause : cause_mark(resolver->findings, cause, node->span);
            if (node->kind == NODE_CALL)
                node->target = NULL; /* what it calls is not laid there */
        }
        for (Node *other = node->kind == NODE_IF ? node->second : NULL; other; other = other->second) {
            leave_out(resolver, other->body, content, cause);
            if (other->kind != NODE_IF)
                break;
        }
    }
}

static void report_content(Resolver *resolver, Node *body)
{
    const unsigned wound = HOLDS_TURNS | HOLDS_CROSSWRAP | HOLDS_LAYERS;
    Node *place = (Node *)content_first(body, HOLDS_PLACES), *other = (Node *)content_first(body, wound);
    bool place_first = place->span.start < other->span.start;
    Finding *finding = not_here(
        resolver, place_first ? other : place, "a pattern holds places, or what is wound at one place; not both",
        "put what is wound into a place, as in `at 60 cm { ... }`, or into a pattern of its own");
    finding_relate(resolver->findings, finding, place_first ? place->span : other->span,
                   place_first ? "a place" : "this is wound at a place");
    leave_out(resolver, body, wound, (place_first ? other : place)->cause);
}

unsigned check_content_of_pattern(Resolver *resolver, Node *pattern)
{
    unsigned content = content_of(pattern->body);
    if (content == HOLDS_PLACES || !(content & (HOLDS_PLACES | HOLDS_LAYERS)))
        return content;
    if (content & HOLDS_PLACES) {
        report_content(resolver, pattern->body);
        return HOLDS_PLACES;
    }
    keep_layers_apart(resolver, pattern->body);
    return HOLDS_LAYERS;
}

/* The length between two, in the unit that they have in common; NULL if they have none. */
static const char *length_between(Resolver *resolver, const Node *from, const Node *to)
{
    bool lengths = from->kind == NODE_NUMBER && to->kind == NODE_NUMBER && from->detail == to->detail
                   && unit_measure((Unit)from->detail) == MEASURE_LENGTH && to->number > from->number;
    return lengths ? finding_text(resolver->findings, "%s %s",
                                  show_number(resolver->findings->words, plain_number(to) - plain_number(from), 4),
                                  unit_spelling((Unit)from->detail))
                   : NULL;
}

/* `at tip - 30 in`; NULL if it is nothing like it. */
static const char *mark_from_end(Resolver *resolver, const Node *mark)
{
    if (mark->kind != NODE_OPERATION)
        return NULL;
    const Node *end = mark->first, *way = mark->second;
    if (end->kind != NODE_NAME || module_name(end) || way->kind != NODE_NUMBER
        || is_name_here(resolver, end->text))
        return NULL;
    bool tip = strcasecmp(end->text->bytes, "tip") == 0 && mark->detail == OPERATOR_SUBTRACT;
    bool butt = strcasecmp(end->text->bytes, "butt") == 0 && mark->detail == OPERATOR_ADD;
    return tip || butt ? finding_text(resolver->findings, tip ? "%s from: tip" : "%s from: butt",
                                      written(resolver->findings->words, resolver->sources, way->span))
                       : NULL;
}

/* `at [10 in, 20 in]` and `at 10 in - 20 in`: from where to where. */
static bool report_from_to(Resolver *resolver, Node *place)
{
    Node *mark = place->first;
    const Node *from = NULL, *to = NULL;
    if (mark->kind == NODE_OPERATION && mark->detail == OPERATOR_SUBTRACT) {
        from = mark->first;
        to = mark->second;
    } else if (mark->kind == NODE_LIST && mark->first && mark->first->next && !mark->first->next->next) {
        from = mark->first;
        to = from->next;
    }
    const char *length = to ? length_between(resolver, from, to) : NULL;
    const char *from_end = length ? NULL : mark_from_end(resolver, mark);
    if (!length && !from_end)
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, mark->span,
                                   length ? "a place has one mark, and its length beside it"
                                          : "a mark is a length from the butt or the tip");
    const char *text =
        length ? finding_text(resolver->findings, "%s length: %s",
                              written(resolver->findings->words, resolver->sources, from->span), length)
               : from_end;
    edit_to(resolver, finding, mark, text, "");
    resolve_broken(resolver, mark, told);
    return true;
}

/* `at [10 cm, 21 cm]: ring6 { ... }`, or three marks and more: places with one body. */
static bool report_several_marks(Resolver *resolver, Node *place)
{
    Node *marks = place->first;
    uint32_t count = 0;
    bool lengths = marks->kind == NODE_LIST;
    for (const Node *mark = lengths ? marks->first : NULL; mark; mark = mark->next, count++)
        lengths &= mark->kind == NODE_NUMBER && unit_measure((Unit)mark->detail) == MEASURE_LENGTH;
    bool guide = place->second;
    for (const Node *option = place->options; option; option = option->next)
        guide |= option->kind == NODE_OPTION && strcmp(option->text->bytes, "guide") == 0;
    if (!lengths || count < (guide ? 2 : 3))
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, marks->span,
                                   "several places with one body are a `series`");
    finding_mend(resolver->findings, finding, "put this place into the braces of a `series`");
    finding_edit(resolver->findings, finding, place->span, "series { %s }",
                 written(resolver->findings->words, resolver->sources, place->span));
    resolve_broken(resolver, marks, told);
    return true;
}

/* `at position: 20 cm`: what stands before the colon is no mark, but says that one follows. */
static bool report_word_before_mark(Resolver *resolver, Node *place)
{
    Node *word = place->first, *mark = place->second;
    if (!mark || word->kind != NODE_NAME || module_name(word) || is_name_here(resolver, word->text)
        || type_at_sight(resolver, mark) != TYPE_LENGTH)
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding =
        finding_add(resolver->findings, FINDING_WRONG_KIND, word->span, "the mark stands right behind `at`");
    const char *length = written(resolver->findings->words, resolver->sources, mark->span);
    finding_mend(resolver->findings, finding, "write `at %s`", length);
    finding_edit(resolver->findings, finding, span_join(word->span, mark->span), "%s", length);
    place->first = mark;
    place->second = NULL;
    resolve_broken(resolver, mark, told);
    return true;
}

/* The unit of length that is written so; UNIT_NONE if none is. */
static Unit length_unit(const char *word)
{
    for (Unit unit = UNIT_MM; unit < UNIT_TURNS; unit++)
        if (strcmp(unit_spelling(unit), word) == 0)
            return unit;
    return UNIT_NONE;
}

static bool all_bare(const Node *list)
{
    const Node *item = list->first;
    while (item && item->kind == NODE_NUMBER && item->detail == UNIT_NONE)
        item = item->next;
    return list->first && !item;
}

/* `at [20, 30, 40] cm: ring6`: the unit is read as an option, of which the guide is the value. */
static bool report_unit_behind_list(Resolver *resolver, Node *place)
{
    Node *marks = place->first, *option = place->options;
    Unit unit =
        !place->second && option && option->kind == NODE_OPTION ? length_unit(option->text->bytes) : UNIT_NONE;
    if (unit == UNIT_NONE || marks->kind != NODE_LIST || !all_bare(marks))
        return false;
    uint64_t told = resolver->findings->told;
    Span span = span_join(marks->span, option_name_span(option));
    Finding *finding =
        finding_add(resolver->findings, FINDING_BARE_NUMBER, span, "each mark has a unit of its own");
    Buffer text;
    buffer_start(&text, resolver->findings->words);
    for (const Node *item = marks->first; item; item = item->next) {
        buffer_text(&text, item == marks->first ? "[" : ", ");
        buffer_text(&text, written(resolver->findings->words, resolver->sources, item->span));
        buffer_text(&text, " ");
        buffer_text(&text, unit_spelling(unit));
    }
    buffer_text(&text, "]");
    finding_mend(resolver->findings, finding, "write `%s`", buffer_string(&text));
    finding_edit(resolver->findings, finding, span, "%s", buffer_string(&text));
    place->second = option->first;
    place->options = option->next;
    resolve_broken(resolver, marks, told);
    return true;
}

/* `at 20 cm: ring16` says what `guide: ring16` does: the option stands for both. */
static void take_guide(Resolver *resolver, Node *place)
{
    Node *guide = place->second, *option = option_node(place->options, PLACE_GUIDE);
    if (!guide)
        return;
    if (option) {
        uint64_t told = resolver->findings->told;
        Finding *finding =
            finding_add(resolver->findings, FINDING_OPTION_TWICE, option->span, "the guide is given twice");
        finding_relate(resolver->findings, finding, guide->span, "first here");
        finding_mend(resolver->findings, finding, "take one of them out");
        edit_out(resolver->findings, finding, resolver->sources, option->span);
        drop_option(resolver, option, told);
    }
    want_at(resolver, guide, SET(TYPE_GUIDE), "guide", (ValueSpot){NODE_PLACE, "guide"});
    Node *added = arena_take(resolver->arena, sizeof *added);
    *added = (Node){.kind = NODE_OPTION,
                    .slot = PLACE_GUIDE,
                    .span = guide->span,
                    .text = text_of_string(resolver->texts, "guide"),
                    .first = guide,
                    .next = place->options};
    place->options = added;
}

static void resolve_mark(Resolver *resolver, Node *place, Within within)
{
    if (report_word_before_mark(resolver, place) || report_unit_behind_list(resolver, place))
        return;
    bool list = within == IN_SERIES && place->first->kind == NODE_LIST;
    if (!list && (report_several_marks(resolver, place) || report_from_to(resolver, place)))
        return;
    TypeSet lists = within == IN_SERIES ? SET(TYPE_LIST + TYPE_LENGTH) : 0;
    want_at(resolver, place->first, SET(TYPE_LENGTH) | lists, "a place's mark",
            (ValueSpot){NODE_PLACE, SPOT_MARK});
}

void exclude_of_place(Resolver *resolver, const Node *node)
{
    exclude(resolver, node, PLACE_GUIDE, PLACE_TOWARD);
    exclude(resolver, node, PLACE_GUIDE, PLACE_LENGTH);
    exclude(resolver, node, PLACE_GUIDE, PLACE_UNTIL);
    exclude(resolver, node, PLACE_LENGTH, PLACE_UNTIL);
    exclude(resolver, node, PLACE_UNTIL, PLACE_TOWARD);
}

/* In a series a place is a row: what it reads of `here` is its own, and what stands in all rows may stand for its
 * braces. */
void resolve_place(Resolver *resolver, Node *place, Within within)
{
    unsigned reads = resolver->reads;
    resolver->reads = 0;
    resolve_mark(resolver, place, within);
    settle_without_here(resolver, place->first, NULL, resolver->reads);
    resolver->mark = place->first;
    resolve_options(resolver, place);
    resolver->mark = NULL;
    take_guide(resolver, place);
    exclude_of_place(resolver, place);
    keep_ends_from_butt(resolver, place->first, place, PLACE_FROM, PLACE_UNTIL);
    resolver->room = length_written(place->options, PLACE_LENGTH);
    resolver->reads = 0;
    check_body(resolver, place->body, IN_PLACE);
    place->slot = slot_of_place(resolver, place->body);
    resolver->room = NULL;
    resolver->reads = reads;
}
