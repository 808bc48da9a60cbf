/* Statements to items. Loops, calls and mirrors are gone after this; fades know the thread they come from. */
#include "meaning/lay.h"

#include "base/limits.h"
#include "meaning/mend.h"

#include <math.h>

Span header_span(const Node *node)
{
    Span span = node->span;
    const Node *last = node->second ? node->second : node->first;
    for (const Node *option = node->options; option; option = option->next)
        last = option;
    if (last)
        span.end = last->span.end;
    return span;
}

static Finding *fault(Laying *laying, FindingCode code, Span span, const char *what)
{
    laying->incomplete = true;
    Finding *finding = finding_add(laying->evaluator->findings, code, span, "%s", what);
    if (laying->evaluator->call)
        finding_relate(laying->evaluator->findings, finding, laying->evaluator->call->span, "called here");
    return finding;
}

static Item *add_item(Laying *laying, Item item)
{
    Evaluator *evaluator = laying->evaluator;
    if (laying->items.count >= LIMIT_RUNS) {
        laying->incomplete = true;
        evaluator->stopped = true;
        Finding *finding = finding_add(evaluator->findings, FINDING_TOO_MUCH_WORK, item.span,
                                       "one layer holds more than %d bands and fades", LIMIT_RUNS);
        finding_mend(evaluator->findings, finding, "repeat less often");
        return NULL;
    }
    Item *added = LIST_ADD(evaluator->arena, &laying->items);
    *added = item;
    return added;
}

/* --- values of statements --- */

/* The list as source text, its first thread to stay. */
static const char *without_spacer(Evaluator *evaluator, Value value)
{
    const char *text = "";
    for (uint32_t i = 0; i < value.list->count; i++)
        text = text_format(evaluator->arena, i ? "%s, spacer(%s)" : "%s%s", text,
                           value.list->items[i].thread->name->bytes);
    return text_format(evaluator->arena, "[%s]", text);
}

/* One thread or several side by side. NULL once there is a finding. */
static const Strands *strands_of(Laying *laying, Value value, Span span)
{
    Evaluator *evaluator = laying->evaluator;
    bool list = type_is_list(value.type);
    uint32_t count = list ? value.list->count : 1;
    Strands *strands = arena_take(evaluator->arena, sizeof *strands);
    strands->items = arena_take_many(evaluator->arena, count, sizeof *strands->items);
    strands->count = count;
    uint32_t staying = 0;
    for (uint32_t i = 0; i < count; i++) {
        const Value *one = list ? &value.list->items[i] : &value;
        strands->items[i] = (Strand){one->thread, one->spacer};
        strands->pitch += one->thread->pitch;
        staying += !one->spacer;
        if (!one->spacer && one->thread->diameter > strands->thickness)
            strands->thickness = one->thread->diameter;
    }
    if (!count) {
        Finding *finding = fault(laying, FINDING_EMPTY_LIST, span, "there is no thread in this list");
        finding_mend(evaluator->findings, finding, "name at least one thread");
        return NULL;
    }
    if (!staying) {
        Finding *finding = fault(laying, FINDING_OUT_OF_RANGE, span, "no thread stays here");
        finding_mend(evaluator->findings, finding, "name at least one thread that is not a spacer");
        if (list && !laying->evaluator->call)
            finding_edit(evaluator->findings, finding, span, "%s", without_spacer(evaluator, value));
        else if (!laying->evaluator->call)
            finding_edit(evaluator->findings, finding, span, "%s", value.thread->name->bytes);
        return NULL;
    }
    return strands;
}

static const Strands *evaluate_strands(Laying *laying, const Node *node)
{
    Value value = evaluate(laying->evaluator, node);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return NULL;
    }
    return strands_of(laying, value, node->span);
}

/* Lengths shorter than this are nothing: mm. */
#define LEAST_LENGTH 1e-9

/* Turns that are whole and at least one, or a length above 0. */
static bool check_amount(Laying *laying, Value value, const Node *node, double least)
{
    Evaluator *evaluator = laying->evaluator;
    Span span = node->span;
    if (value.type == TYPE_TURNS && fabs(value.number - round(value.number)) > 1e-9) {
        bool literal = node->kind == NODE_NUMBER || value.number < 0.5;
        const char *whole = literal ? show_turns(evaluator->arena, fmax(1, round(value.number)))
                                    : text_format(evaluator->arena, "round(%s)",
                                                  written(evaluator->arena, evaluator->sources, span));
        Finding *finding = fault(laying, FINDING_NOT_WHOLE, span, "turns are whole here");
        finding_label(evaluator->findings, finding, "this comes to %s",
                      show_turns(evaluator->arena, value.number));
        finding_mend(evaluator->findings, finding, "write `%s`", whole);
        finding_edit(evaluator->findings, finding, span, "%s", whole);
        return false;
    }
    if (value.number >= least)
        return true;
    const char *bound = value.type == TYPE_LENGTH ? "1 mm" : source_value(evaluator, value.type, fmax(1, least));
    Finding *finding =
        fault(laying, FINDING_OUT_OF_RANGE, span,
              value.type == TYPE_LENGTH ? "a length here is more than 0 mm" : "at least 1 turn is wanted here");
    finding_label(evaluator->findings, finding, "this comes to %s",
                  show_value(evaluator, value.type, value.number));
    finding_mend(evaluator->findings, finding, "write a larger one, such as %s", bound);
    finding_edit(evaluator->findings, finding, span, "%s", bound);
    return false;
}

/* Turns or a length. Returns false once there is a finding. */
static bool evaluate_extent(Laying *laying, const Node *node, Extent *extent)
{
    Value value = evaluate(laying->evaluator, node);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return false;
    }
    if (!check_amount(laying, value, node, value.type == TYPE_TURNS ? 1 : LEAST_LENGTH))
        return false;
    *extent = (Extent){.kind = value.type == TYPE_TURNS ? EXTENT_TURNS : EXTENT_LENGTH, .span = node->span,
                       .amount = value.type == TYPE_TURNS ? round(value.number) : value.number};
    return true;
}

/* A fill, if the room for it is known. */
static bool make_fill(Laying *laying, const Node *node, double weight, Extent *extent)
{
    *extent = (Extent){.kind = EXTENT_FILL, .amount = weight, .group = laying->next_group++, .span = node->span};
    if (laying->length_known)
        return true;
    Evaluator *evaluator = laying->evaluator;
    Finding *finding = fault(laying, FINDING_FILL_WITHOUT_LENGTH, node->span, "there is no length to fill");
    finding_relate(evaluator->findings, finding, laying->place_header, "this place does not say how long it is");
    const char *length = evaluator->units == SYSTEM_IN ? "2 in" : evaluator->units == SYSTEM_CM ? "5 cm" : "50 mm";
    finding_mend(evaluator->findings, finding, "say how much room the place has: `length: %s` after its mark",
                 length);
    Span end = laying->place_header;
    end.start = end.end;
    finding_edit(evaluator->findings, finding, end, " length: %s", length);
    return false;
}

/* A count of at least `least`; 0 once there is a finding. */
static uint32_t evaluate_count(Laying *laying, const Node *node, double least, double most)
{
    Evaluator *evaluator = laying->evaluator;
    Value value = evaluate(evaluator, node);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return 0;
    }
    if (value.number >= least && value.number <= most)
        return (uint32_t)value.number;
    bool low = value.number < least;
    const char *bound = show_number(evaluator->arena, low ? least : most, 0);
    Finding *finding = fault(laying, FINDING_OUT_OF_RANGE, node->span,
                             low ? "this count is too small" : "this count is too large");
    finding_label(evaluator->findings, finding, "at %s %s; this is %s", low ? "least" : "most", bound,
                  show_number(evaluator->arena, value.number, 0));
    finding_mend(evaluator->findings, finding, "write %s", bound);
    finding_edit(evaluator->findings, finding, node->span, "%s", bound);
    return 0;
}

/* --- bands --- */

typedef LIST_OF(Inlay) InlayList;

static void add_inlay(Laying *laying, InlayList *inlays, const Node *node)
{
    Evaluator *evaluator = laying->evaluator;
    const Node *every = option_value(node->options, INLAY_EVERY), *at = option_value(node->options, INLAY_AT);
    const Node *where = every ? every : at;
    Inlay inlay = {.every = every, .span = header_span(node)};
    if (!where || !evaluate_extent(laying, node->first, &inlay.extent)
        || !(inlay.strands = evaluate_strands(laying, node->second))) {
        laying->incomplete = true;
        return;
    }
    Value position = evaluate(evaluator, where);
    inlay.at_span = where->span;
    inlay.at = position.number;
    inlay.at_kind = position.type == TYPE_TURNS ? AT_TURNS : position.type == TYPE_LENGTH ? AT_LENGTH : AT_RATIO;
    if (position.type == TYPE_BROKEN
        || (every && !check_amount(laying, position, where, position.type == TYPE_TURNS ? 1 : LEAST_LENGTH))) {
        laying->incomplete = true;
        return;
    }
    if (inlay.at_kind == AT_RATIO && (position.number < 0 || position.number > 1)) {
        Finding *finding =
            fault(laying, FINDING_OUT_OF_RANGE, where->span, "an inlay lies between 0 and 1 of its band");
        finding_mend(evaluator->findings, finding, "write a ratio such as 1/2");
        finding_edit(evaluator->findings, finding, where->span, "1/2");
        return;
    }
    *LIST_ADD(evaluator->arena, inlays) = inlay;
}

static void gather_inlays(Laying *laying, InlayList *inlays, const Node *statements);
static void lay_let(Laying *laying, const Node *node);
static void lay_require(Laying *laying, const Node *node);

/* What `for` goes through: a list or counts. */
typedef struct Course { const ValueList *list; double from, count; } Course;

static bool course_of(Laying *laying, const Node *node, Course *course)
{
    Evaluator *evaluator = laying->evaluator;
    Value first = evaluate(evaluator, node->first),
          last = node->second ? evaluate(evaluator, node->second) : first;
    if (first.type == TYPE_BROKEN || last.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return false;
    }
    if (node->second)
        *course = (Course){NULL, first.number, fmax(0, last.number - first.number + 1)};
    else
        *course = (Course){first.list, 0, first.list->count};
    return true;
}

static Value course_value(const Course *course, double step)
{
    if (course->list)
        return course->list->items[(uint32_t)step];
    return (Value){.type = TYPE_COUNT, .number = course->from + step};
}

/* The branch of an if that holds; NULL if none. */
static const Node *chosen(Laying *laying, const Node *node)
{
    while (node && node->kind == NODE_IF) {
        Value value = evaluate(laying->evaluator, node->first);
        if (value.type == TYPE_BROKEN) {
            laying->incomplete = true;
            return NULL;
        }
        if (value.truth)
            return node;
        node = node->second;
    }
    return node;
}

static void gather_for(Laying *laying, InlayList *inlays, const Node *node)
{
    Course course;
    if (!course_of(laying, node, &course))
        return;
    for (double step = 0; step < course.count && evaluate_step(laying->evaluator, node->span); step++) {
        laying->evaluator->frame[node->options->slot] = course_value(&course, step);
        gather_inlays(laying, inlays, node->body);
    }
}

static void gather_inlays(Laying *laying, InlayList *inlays, const Node *statements)
{
    for (const Node *node = statements; node && evaluate_step(laying->evaluator, node->span); node = node->next) {
        const Node *branch;
        switch (node->kind) {
        case NODE_INLAY: add_inlay(laying, inlays, node); break;
        case NODE_FOR: gather_for(laying, inlays, node); break;
        case NODE_IF:
            if ((branch = chosen(laying, node)))
                gather_inlays(laying, inlays, branch->body);
            break;
        case NODE_LET: lay_let(laying, node); break;
        case NODE_REQUIRE: lay_require(laying, node); break;
        default: laying->incomplete = true; break;
        }
    }
}

static void lay_band(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_BAND, .span = header_span(node), .strands_span = node->second->span};
    const Node *weight = option_value(node->options, BAND_WEIGHT);
    if (node->first->kind == NODE_FILL) {
        double share = option_number(laying->evaluator, node, BAND_WEIGHT, (Range){0.001, 1e6, 1});
        if (weight && weight->type == TYPE_BROKEN)
            laying->incomplete = true;
        if (!make_fill(laying, node->first, share, &item.extent))
            return;
    } else if (!evaluate_extent(laying, node->first, &item.extent))
        return;
    if (option_node(node->options, BAND_MEASURED)) {
        item.measured = option_number(laying->evaluator, node, BAND_MEASURED, (Range){0.001, 1e7, 0});
        item.measured_span = option_value_span(node, BAND_MEASURED);
    }
    item.strands = evaluate_strands(laying, node->second);
    InlayList inlays = {0};
    gather_inlays(laying, &inlays, node->body);
    item.inlays = inlays.items;
    item.inlay_count = inlays.count;
    if (item.strands)
        add_item(laying, item);
}

/* --- fades --- */

/* The thread that is running where the next statement begins: that of the last run, if it is just one. */
static const Strands *running(const Laying *laying)
{
    if (!laying->items.count)
        return NULL;
    const Item *last = &laying->items.items[laying->items.count - 1];
    if (last->kind == ITEM_GAP)
        return NULL;
    const Strands *strands = last->kind == ITEM_FADE && last->reversed ? last->from : last->strands;
    return strands->count == 1 ? strands : NULL;
}

static const CrossoverStep *take_runs(Laying *laying, const Node *node, uint32_t *count)
{
    Value value = evaluate(laying->evaluator, node);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return NULL;
    }
    if (!value.list->count) {
        Finding *finding = fault(laying, FINDING_EMPTY_LIST, node->span, "a fade needs at least one run");
        finding_mend(laying->evaluator->findings, finding, "write its runs, such as [in 1 out 2, in 2 out 1]");
        finding_edit(laying->evaluator->findings, finding, node->span, "[in 1 out 2, in 2 out 1]");
        return NULL;
    }
    CrossoverStep *runs = arena_take_many(laying->evaluator->arena, value.list->count, sizeof *runs);
    for (uint32_t i = 0; i < value.list->count; i++)
        runs[i] = value.list->items[i].pair;
    *count = value.list->count;
    return runs;
}

/* Largest crossover by steps: n(n+1) turns stay below the limit of turns. */
enum { MOST_STEPS = 3000 };

/* How the fade crosses over. Returns false once there is a finding. */
static bool take_rule(Laying *laying, const Node *node, Item *item)
{
    const Node *steps = option_value(node->options, FADE_OPTION_STEPS),
               *over = option_value(node->options, FADE_OPTION_OVER),
               *runs = option_value(node->options, FADE_OPTION_RUNS);
    if (steps) {
        item->fade_rule = FADE_STEPS;
        item->extent.span = steps->span;
        return (item->steps = evaluate_count(laying, steps, 1, MOST_STEPS)) > 0;
    }
    if (over) {
        item->fade_rule = FADE_EVEN;
        return evaluate_extent(laying, over, &item->extent);
    }
    if (runs) {
        item->fade_rule = FADE_RUNS;
        item->extent.span = runs->span;
        return (item->runs = take_runs(laying, runs, &item->run_count)) != NULL;
    }
    return false;
}

/* The last single thread before the fade, or else one declared in this file that is not the one faded to. In patterns
 * it is not known which names may be used. */
static const char *thread_to_fade_from(const Laying *laying, const Node *node)
{
    const Evaluator *evaluator = laying->evaluator;
    if (evaluator->call || findings_full(evaluator->findings))
        return NULL;
    for (uint32_t i = laying->items.count; i; i--) {
        const Item *item = &laying->items.items[i - 1];
        if (item->kind == ITEM_BAND && item->strands->count == 1)
            return item->strands->items[0].thread->name->bytes;
    }
    for (uint32_t i = 0; i < evaluator->thread_count; i++) {
        const Thread *thread = evaluator->threads[i];
        if (thread->span.file == node->span.file
            && !(node->second->kind == NODE_NAME && node->second->text == thread->name))
            return thread->name->bytes;
    }
    return NULL;
}

static void report_no_running_thread(Laying *laying, const Node *node)
{
    Findings *findings = laying->evaluator->findings;
    const Item *last = laying->items.count ? &laying->items.items[laying->items.count - 1] : NULL;
    Finding *finding =
        fault(laying, FINDING_FADE_FROM_NOTHING, header_span(node),
              !last                    ? "there is no thread to fade from"
              : last->kind == ITEM_GAP ? "there is no running thread after a gap"
                                       : "a fade comes from one thread, and here several run together");
    if (last)
        finding_relate(findings, finding, last->span, "this is before it");
    finding_mend(findings, finding, "wind a band of one thread before the fade");
    const char *thread = thread_to_fade_from(laying, node);
    if (thread && !laying->length_known)
        finding_edit(findings, finding, (Span){node->span.start, node->span.start, node->span.file},
                     "band 20 turns of %s  ", thread);
}

/* Legal, and its turns are laid, but hardly meant. */
static void warn_of_fade_to_itself(Laying *laying, const Node *node)
{
    Findings *findings = laying->evaluator->findings;
    Finding *finding = finding_add(findings, FINDING_FADE_TO_ITSELF, node->second->span, "this thread is running already");
    finding_relate(findings, finding, laying->items.items[laying->items.count - 1].span, "it runs from here");
    finding_mend(findings, finding, "name another thread to fade to, or take the fade out");
}

static void lay_fade_to(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_FADE, .span = header_span(node), .strands_span = node->second->span};
    item.strands = evaluate_strands(laying, node->second);
    bool ruled = take_rule(laying, node, &item);
    if (!item.strands || !ruled) {
        laying->incomplete = true;
        return;
    }
    item.from = running(laying);
    /* After a fault it is not known what ran before. */
    if (!item.from && laying->incomplete)
        return;
    if (!item.from)
        report_no_running_thread(laying, node);
    else {
        if (item.from->items[0].thread == item.strands->items[0].thread)
            warn_of_fade_to_itself(laying, node);
        add_item(laying, item);
    }
}

/* The threads of `fade EXTENT of LIST`, each as strands of its own; NULL once there is a finding. */
static const Strands **shades_of(Laying *laying, const Node *node, uint32_t *count)
{
    Value value = evaluate(laying->evaluator, node);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return NULL;
    }
    if (value.list->count < 2) {
        Finding *finding =
            fault(laying, FINDING_OUT_OF_RANGE, node->span, "a fade goes through two threads at least");
        finding_mend(laying->evaluator->findings, finding, "name the threads in order, such as [navy, mist]");
        return NULL;
    }
    const Strands **shades = arena_take_many(laying->evaluator->arena, value.list->count, sizeof *shades);
    for (uint32_t i = 0; i < value.list->count; i++)
        if (!(shades[i] = strands_of(laying, value.list->items[i], node->span)))
            return NULL;
    *count = value.list->count;
    return shades;
}

static Extent shared(const Spread *spread, uint32_t index)
{
    return (Extent){.kind = EXTENT_SHARE, .amount = index, .spread = spread, .span = spread->span};
}

/* Bands with crossovers between them, or crossovers alone. */
static void lay_fade_of(Laying *laying, const Node *node)
{
    uint32_t count = 0;
    const Strands **shades = shades_of(laying, node->second, &count);
    bool fill = node->first->kind == NODE_FILL, ruled = node->options;
    Item fade = {
        .kind = ITEM_FADE, .fade_rule = FADE_EVEN, .span = header_span(node), .strands_span = node->second->span};
    Extent extent = {.span = node->first->span};
    bool sound =
        (!ruled || take_rule(laying, node, &fade)) && (fill || evaluate_extent(laying, node->first, &extent));
    if (!shades || !sound) {
        laying->incomplete = true;
        return;
    }
    Spread *spread = arena_take(laying->evaluator->arena, sizeof *spread);
    *spread = (Spread){.kind = extent.kind, .amount = extent.amount, .band_count = ruled ? count : 0, .fade_count = count - 1, .span = extent.span};
    for (uint32_t i = 0; i < count; i++) {
        Item band = {
            .kind = ITEM_BAND, .span = fade.span, .strands_span = fade.strands_span, .strands = shades[i]};
        if (ruled && fill && !make_fill(laying, node->first, 1, &band.extent))
            return;
        if (!fill)
            band.extent = shared(spread, i);
        if (ruled && !add_item(laying, band))
            return;
        fade.from = shades[i];
        fade.strands = i + 1 < count ? shades[i + 1] : NULL;
        if (!ruled)
            fade.extent = shared(spread, i);
        if (fade.strands && !add_item(laying, fade))
            return;
    }
}

/* --- the rest --- */

static void lay_gap(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_GAP, .span = header_span(node)};
    if (!evaluate_extent(laying, node->first, &item.extent))
        return;
    if (node->second && !(item.strands = evaluate_strands(laying, node->second)))
        return;
    add_item(laying, item);
}

static void lay_repeat(Laying *laying, const Node *node)
{
    Value value = evaluate(laying->evaluator, node->first);
    if (value.type == TYPE_BROKEN || value.number < 0) {
        laying->incomplete = true;
        if (value.type != TYPE_BROKEN)
            evaluate_count(laying, node->first, 0, LIMIT_RUNS);
        return;
    }
    /* Every time around the fills are numbered alike: they are copies of one another. */
    uint32_t group = laying->next_group;
    for (double time = 0; time < value.number && evaluate_step(laying->evaluator, node->span); time++) {
        laying->next_group = group;
        lay_statements(laying, node->body);
    }
    laying->incomplete |= laying->evaluator->stopped;
}

static void reverse(Item *items, uint32_t count)
{
    for (uint32_t i = 0; i < count / 2; i++) {
        Item item = items[i];
        items[i] = items[count - 1 - i];
        items[count - 1 - i] = item;
    }
    for (uint32_t i = 0; i < count; i++)
        items[i].reversed = !items[i].reversed;
}

static void lay_mirror(Laying *laying, const Node *node)
{
    uint32_t first = laying->items.count;
    lay_statements(laying, node->body);
    reverse(laying->items.items + first, laying->items.count - first);
}

static void lay_symmetric(Laying *laying, const Node *node)
{
    uint32_t first = laying->items.count;
    lay_statements(laying, node->body);
    for (uint32_t i = laying->items.count; i > first; i--) {
        Item copy = laying->items.items[i - 1];
        copy.reversed = !copy.reversed;
        if (!add_item(laying, copy))
            return;
    }
}

static void lay_for(Laying *laying, const Node *node)
{
    Course course;
    if (!course_of(laying, node, &course))
        return;
    for (double step = 0; step < course.count && evaluate_step(laying->evaluator, node->span); step++) {
        laying->evaluator->frame[node->options->slot] = course_value(&course, step);
        lay_statements(laying, node->body);
    }
    laying->incomplete |= laying->evaluator->stopped;
}

static void lay_if(Laying *laying, const Node *node)
{
    const Node *branch = chosen(laying, node);
    if (branch)
        lay_statements(laying, branch->body);
}

static void lay_require(Laying *laying, const Node *node)
{
    Value value = evaluate(laying->evaluator, node->first);
    if (value.type == TYPE_BROKEN) {
        laying->incomplete = true;
        return;
    }
    if (value.truth)
        return;
    Findings *findings = laying->evaluator->findings;
    const Node *call = laying->evaluator->call;
    laying->incomplete = true;
    const char *why = node->second ? node->second->text->bytes : "a requirement does not hold";
    Finding *finding =
        finding_add(findings, FINDING_REQUIRE_FAILS, call ? call->span : node->first->span, "%s", why);
    if (call) {
        finding_label(findings, finding, "called here");
        finding_relate(findings, finding, node->first->span, "this does not hold");
    }
    finding_mend(findings, finding, call ? "give the pattern what it asks for" : "change what it rests on");
    laying->refused = true;
}

static void lay_let(Laying *laying, const Node *node)
{
    Value value = evaluate(laying->evaluator, node->first);
    if (value.type == TYPE_BROKEN)
        laying->incomplete = true;
    laying->evaluator->frame[node->slot] = value;
}

/* A call counts as so many steps of reckoning: it takes memory for its locals. */
enum { CALL_STEPS = 20 };

/* Arguments are worked out with the caller's locals, defaults with the pattern's own. */
static bool fill_frame(Laying *laying, const Node *call, const Declaration *pattern, Value *frame)
{
    Evaluator *evaluator = laying->evaluator;
    bool sound = true;
    for (const Node *argument = call->options; argument; argument = argument->next) {
        if (argument->slot == UINT32_MAX)
            return false;
        const Node *parameter = pattern->node->options;
        for (uint32_t number = argument->slot; parameter && number; number--)
            parameter = parameter->next;
        frame[parameter->slot] = evaluate(evaluator, argument->first);
        frame[parameter->slot].type = frame[parameter->slot].type == TYPE_BROKEN ? TYPE_BROKEN : parameter->type;
        sound &= frame[parameter->slot].type != TYPE_BROKEN;
    }
    Value *callers = evaluator->frame;
    evaluator->frame = frame;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next) {
        bool given = false;
        uint32_t number = 0;
        for (const Node *before = pattern->node->options; before != parameter; before = before->next)
            number++;
        for (const Node *argument = call->options; argument; argument = argument->next)
            given |= argument->slot == number;
        if (given)
            continue;
        frame[parameter->slot] =
            parameter->first ? evaluate(evaluator, parameter->first) : (Value){.type = TYPE_BROKEN};
        sound &= frame[parameter->slot].type != TYPE_BROKEN;
    }
    evaluator->frame = callers;
    return sound;
}

static void lay_call(Laying *laying, const Node *node)
{
    const Declaration *pattern = node->target;
    Evaluator *evaluator = laying->evaluator;
    if (!pattern || pattern->checked != DONE || evaluator->call_depth >= LIMIT_CALL_DEPTH) {
        laying->incomplete = true;
        return;
    }
    evaluator->steps += CALL_STEPS;
    Value *frame = arena_take_many(evaluator->arena, pattern->slots, sizeof *frame), *callers = evaluator->frame;
    if (!fill_frame(laying, node, pattern, frame)) {
        laying->incomplete = true;
        return;
    }
    const Node *outer = evaluator->call;
    evaluator->frame = frame;
    evaluator->call = node;
    evaluator->call_depth++;
    lay_statements(laying, pattern->node->body);
    laying->refused = false;
    evaluator->call_depth--;
    evaluator->call = outer;
    evaluator->frame = callers;
}

static void lay_nothing(Laying *laying, const Node *node)
{
    (void)node;
    laying->incomplete = true;   /* out of place or broken: reported before */
}

void lay_statements(Laying *laying, const Node *statements)
{
    static void (*const lays[NODE_KIND_COUNT])(Laying *, const Node *) = {
        [NODE_BAND] = lay_band,       [NODE_INLAY] = lay_nothing,
        [NODE_FADE_TO] = lay_fade_to, [NODE_FADE_OF] = lay_fade_of,
        [NODE_GAP] = lay_gap,         [NODE_REPEAT] = lay_repeat,
        [NODE_MIRROR] = lay_mirror,   [NODE_SYMMETRIC] = lay_symmetric,
        [NODE_FOR] = lay_for,         [NODE_IF] = lay_if,
        [NODE_REQUIRE] = lay_require, [NODE_LET] = lay_let,
        [NODE_CALL] = lay_call,       [NODE_UNDER] = lay_nothing,
        [NODE_OVER] = lay_nothing,    [NODE_BROKEN] = lay_nothing,
    };
    /* What follows a requirement that does not hold rests on it. */
    for (const Node *node = statements; node && !laying->refused && evaluate_step(laying->evaluator, node->span);
         node = node->next)
        lays[node->kind](laying, node);
}
