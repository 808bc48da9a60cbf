/* Puts the job together: threads, rods, places and layers. */
#include "base/limits.h"
#include "meaning/bench_settings.h"
#include "meaning/lay.h"
#include "meaning/mend.h"
#include "meaning/meaning.h"
#include "meaning/resolver.h"
#include "meaning/thread_names.h"

#include <math.h>

/* A crosswrap lies over the whole of its layer. */
static void keep_crosswraps_alone(Laying *laying)
{
    const Item *crosswrap = NULL, *other = NULL;
    for (uint32_t i = 0; i < laying->items.count; i++) {
        const Item *item = &laying->items.items[i];
        if (item->kind == ITEM_CROSSWRAP && !crosswrap)
            crosswrap = item;
        else
            other = item;
    }
    if (!crosswrap || !other)
        return;
    Findings *findings = laying->evaluator->findings;
    bool crossing = other->kind == ITEM_CROSSWRAP;
    Finding *finding =
        finding_add(findings, FINDING_CROSSWRAP_NOT_ALONE, crosswrap->span,
                    crossing ? "two crosswraps cannot lie in one layer" : "a crosswrap needs a layer to itself");
    lay_spoil(laying, finding->number, crosswrap->span);
    if (other->span.start != crosswrap->span.start) /* a repeat lays one statement twice */
        finding_relate(findings, finding, other->span,
                       crossing ? "the other one" : "this is wound in the same layer");
    finding_mend(findings, finding, "give each a layer of its own: `over { ... }`");
}

/* Helices that climb a foot could not be laid beside one another. */
static void keep_crosswraps_off_feet(Laying *laying, const Place *place, const Layer *layer, bool written)
{
    const Item *item = laying->items.count == 1 ? laying->items.items : NULL;
    if (!item || item->kind != ITEM_CROSSWRAP || !place->guide || !layer->over)
        return;
    Findings *findings = laying->evaluator->findings;
    Finding *finding = finding_add(findings, FINDING_CROSSWRAP_OVER_FOOT, item->span,
                                   "a crosswrap cannot be laid over a guide's foot");
    lay_spoil(laying, finding->number, item->span);
    finding_relate(findings, finding, place->span, "%s stands here", place->guide->name->bytes);
    finding_mend(findings, finding,
                 written ? "put it under the foot: `under { ... }`"
                         : "put it under the foot, in `under { ... }`, or at a place of its own");
    if (written)
        finding_edit(findings, finding, layer->span, "under");
}

/* One more of a place's layers: a crosswrap that stands directly in it has no braces of its own around it. */
static bool is_layer(const Node *node)
{
    return node->kind == NODE_UNDER || node->kind == NODE_OVER || node->kind == NODE_CHEVRON
           || node->kind == NODE_DIAMOND || node->kind == NODE_SPIRAL;
}

/* Few are copied, so that no room is left beside them; a list of many is the layer's own. */
static void keep_items(Evaluator *evaluator, ItemList *items, Layer *layer)
{
    enum { FEW = 256 };
    bool few = items->count <= FEW;
    layer->items =
        few ? arena_copy(evaluator->arena, items->items, items->count * sizeof *items->items) : items->items;
    layer->item_count = items->count;
    if (!few)
        return;
    items->count = 0;
    evaluator->spare_items = *items;
}

/* Common practice, no source; wide, so that only slips are found. */
static const Range layer_offset = {0, 1e7, 0};
static const Range length_of_place = {0.001, 1e7, NAN};

static Layer make_layer(Evaluator *evaluator, const Place *place, const Node *node, const Node *statements)
{
    bool written = node->kind == NODE_UNDER || node->kind == NODE_OVER;
    uint64_t told = evaluator->findings->told;
    evaluator->met = CAUSE_NONE;
    Layer layer = {.over = node->kind != NODE_UNDER, .span = written ? node->span : place->span, .length = NAN};
    if (node->kind != NODE_PLACE && !written)
        layer.span = header_span(node);
    if (written) {
        layer.span = (Span){node->span.start, node->span.start + (uint32_t)(layer.over ? 4 : 5), node->span.file};
        layer.offset = option_number(evaluator, node, LAYER_OFFSET, layer_offset);
        layer.length = option_number(evaluator, node, LAYER_LENGTH, length_of_place);
    }
    Laying laying = {.evaluator = evaluator, .place_header = place->span, .items = evaluator->spare_items};
    evaluator->spare_items = (ItemList){0};
    Cause cause = cause_since(evaluator, told);
    if (cause)
        lay_spoil(&laying, cause, layer.span);
    laying.length_known =
        !place->direction || place->length_written || (written && option_node(node->options, LAYER_LENGTH));
    lay_statements(&laying, statements);
    keep_crosswraps_alone(&laying);
    keep_crosswraps_off_feet(&laying, place, &layer, written);
    keep_items(evaluator, &laying.items, &layer);
    layer.group_count = laying.next_group;
    layer.cause = laying.cause;
    return layer;
}

/* A place's own `let` and `require` hold for its layers. */
static void make_layers(Evaluator *evaluator, Place *place, const Node *node)
{
    uint32_t count = 0;
    for (const Node *part = node->body; part; part = part->next)
        count += is_layer(part);
    if (count > LIMIT_LAYERS) {
        Finding *finding = finding_add(evaluator->findings, FINDING_TOO_MUCH_WORK, place->span,
                                       "this place has %u layers; at most %d are allowed", count, LIMIT_LAYERS);
        finding_mend(evaluator->findings, finding, "split it into several places");
        place->cause = cause_mark(evaluator->findings, finding->number, place->span);
        return;
    }
    place->layers = arena_take_many(evaluator->arena, count ? count : 1, sizeof *place->layers);
    if (!count) {
        place->layers[place->layer_count++] = make_layer(evaluator, place, node, node->body);
        return;
    }
    /* A statement beside layers is a finding of its own: whether its place has a length is not asked again. */
    Laying shared = {.evaluator = evaluator, .place_header = place->span, .length_known = true};
    for (const Node *part = node->body; part; part = part->next) {
        if (is_layer(part)) {
            bool braces = part->kind == NODE_UNDER || part->kind == NODE_OVER;
            Node alone = *part;
            alone.next = NULL;
            place->layers[place->layer_count] = make_layer(evaluator, place, part, braces ? part->body : &alone);
            Layer *layer = &place->layers[place->layer_count++];
            if (!layer->cause)
                layer->cause = shared.cause;
            continue;
        }
        Node alone = *part;
        alone.next = NULL;
        lay_statements(&shared, &alone);
    }
}

/* `at -30 in` on a blank that begins at 0: so far from the tip. */
static void check_sign_of_mark(Evaluator *evaluator, const Rod *rod, const Node *node, const Place *place)
{
    const Node *mark = node->first;
    if (!(place->mark < 0) || place->from_tip || mark->kind != NODE_SIGN || mark->first->kind != NODE_NUMBER
        || !rod->blank || rod->blank->stations[0].at < 0)
        return;
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, mark->span,
                                   "this place would lie before the butt of its blank");
    const char *length = written(evaluator->findings->words, evaluator->sources, mark->first->span);
    bool from = option_node(node->options, PLACE_FROM);
    finding_mend(evaluator->findings, finding, from ? "write `%s`" : "write `%s from: tip`", length);
    finding_edit(evaluator->findings, finding, mark->span, from ? "%s" : "%s from: tip", length);
}

/* Returns whether it can be planned; if not, it is left out, and the rod knows why. */
static bool make_place(Evaluator *evaluator, Rod *rod, const Node *node, Place *place)
{
    uint64_t told = evaluator->findings->told;
    evaluator->met = CAUSE_NONE;
    Value mark = evaluate(evaluator, node->first);
    const Node *guide = option_value(node->options, PLACE_GUIDE);
    *place = (Place){.span = header_span(node), .mark_span = node->first->span, .mark = mark.number};
    place->from_tip = option_choice(node, PLACE_FROM, 0) == 1;
    if (place->from_tip && rod->blank)
        place->mark = rod->blank->stations[rod->blank->station_count - 1].at - mark.number;
    check_sign_of_mark(evaluator, rod, node, place);
    place->length = option_number(evaluator, node, PLACE_LENGTH, length_of_place);
    place->length_span = option_value_span(node, PLACE_LENGTH);
    place->length_written = option_node(node->options, PLACE_LENGTH);
    if (guide) {
        Value value = evaluate(evaluator, guide);
        place->guide = value.type == TYPE_GUIDE ? value.guide : NULL;
    }
    /* A value out of its range would show again as a wrong width. */
    Cause cause = cause_since(evaluator, told);
    if (!cause)
        cause = cause_of_options(node);
    bool sound = mark.type == TYPE_LENGTH && !findings_since(evaluator->findings, told)
                 && !(place->length_written && isnan(place->length)) && !(guide && !place->guide);
    if (!sound)
        rod->cause = cause_mark(evaluator->findings, cause, place->span);
    place->direction = guide ? 0 : option_choice(node, PLACE_TOWARD, 1) == 1 ? 1 : -1;
    make_layers(evaluator, place, node);
    return sound;
}

static void make_rod(Evaluator *evaluator, const Node *node, Rod *rod)
{
    *rod = (Rod){.title = node->first->text, .span = node->first->span};
    if (node->cause || node->second->kind != NODE_NAME) {
        rod->cause = cause_mark(evaluator->findings, node->cause ? node->cause : node->second->cause, rod->span);
        return;
    }
    Declaration *blank = (Declaration *)node->second->target;
    Value value = blank ? value_of(evaluator, blank, node->second->span) : (Value){.cause = node->second->cause};
    rod->blank = value.type == TYPE_BLANK ? value.blank : NULL;
    if (!rod->blank)
        rod->cause = cause_mark(evaluator->findings, value.cause, rod->span);
    uint32_t count = 0;
    for (const Node *place = node->body; place; place = place->next)
        count++;
    rod->places = arena_take_many(evaluator->arena, count, sizeof *rod->places);
    evaluator->frame = arena_take_many(evaluator->arena, node->slot, sizeof *evaluator->frame);
    for (const Node *place = node->body; place; place = place->next)
        if (place->kind != NODE_PLACE)
            rod->cause = cause_mark(evaluator->findings, place->cause, place->span);
        else
            rod->place_count += make_place(evaluator, rod, place, &rod->places[rod->place_count]);
}

/* Every thread of every module, also those that no rod uses: their own faults are told too. */
static void value_declarations(Evaluator *evaluator, const Modules *modules, Job *job)
{
    LIST_OF(const Thread *) threads = {0};
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        for (uint32_t j = 0; j < module->names.count; j++) {
            Declaration *one = module->names.items[j];
            const Thread *thread = one->node->kind == NODE_THREAD ? declared_thread(evaluator, one) : NULL;
            if (one->node->kind == NODE_GUIDE)
                declared_guide(evaluator, one);
            else if (one->node->kind == NODE_BLANK)
                declared_blank(evaluator, one);
            else if (one->node->kind == NODE_LET && one->type != TYPE_BROKEN)
                value_of(evaluator, one, one->node->span);
            if (!thread)
                continue;
            ((Thread *)thread)->index = threads.count;
            *LIST_ADD(evaluator->arena, &threads) = thread;
        }
    }
    evaluator->threads = job->threads = threads.items;
    evaluator->thread_count = job->thread_count = threads.count;
}

static About about_of(Evaluator *evaluator, const Module *main)
{
    const Node *about = NULL;
    for (const Node *node = main->declarations; node && !about; node = node->next)
        about = node->kind == NODE_ABOUT ? node : NULL;
    if (!about)
        return (About){0};
    return (About){.title = option_text(evaluator, about, ABOUT_TITLE),
                   .author = option_text(evaluator, about, ABOUT_AUTHOR),
                   .version = option_text(evaluator, about, ABOUT_VERSION),
                   .licence = option_text(evaluator, about, ABOUT_LICENCE)};
}

Job *meaning_job(Arena *arena, Texts *texts, const Sources *sources, const Modules *modules, Findings *findings,
                 GivenSwaps *swaps)
{
    Module *main = modules->list.items[0];
    Resolver *resolver = arena_take(arena, sizeof *resolver);
    *resolver = (Resolver){.arena = arena,
                           .texts = texts,
                           .sources = sources,
                           .findings = findings,
                           .module = main,
                           .sizes = modules->sizes};
    for (uint32_t i = 0; i < modules->list.count; i++)
        resolve_module(resolver, modules->list.items[i]);

    Job *job = arena_take(arena, sizeof *job);
    job->sources = sources;
    Evaluator evaluator = {.arena = arena, .sources = sources, .findings = findings};
    job->bench = bench_read(&evaluator, main);
    job->about = about_of(&evaluator, main);
    value_declarations(&evaluator, modules, job);
    tell_names_apart(&evaluator, texts, modules, job->thread_count);
    evaluator.in_rods = true;
    evaluator.swaps = swaps_given(resolver, &evaluator, swaps);
    uint32_t count = 0;
    for (const Node *node = main->declarations; node; node = node->next)
        count += node->kind == NODE_ROD;
    job->rods = arena_take_many(arena, count, sizeof *job->rods);
    for (const Node *node = main->declarations; node; node = node->next)
        if (node->kind == NODE_ROD)
            make_rod(&evaluator, node, &job->rods[job->rod_count++]);
    swaps_given_and_used(&evaluator, swaps, evaluator.swaps);
    add_changed_threads(&evaluator, texts, modules, job);
    return job;
}
