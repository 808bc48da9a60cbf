/* Rods, places and layers: statements to the places of a rod, and what stands in a place to its layers. */
#include "base/limits.h"
#include "meaning/blank.h"
#include "meaning/lay_value.h"
#include "meaning/mend.h"

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
const Range length_of_place = {0.001, 1e7, NAN};

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

/* One more layer of the place that is being laid. What was spoilt before it in the place's braces it may rest on.
 */
static void add_layer(Laying *laying, const Node *node, const Node *statements)
{
    Place *place = laying->place;
    if (place->layer_count == LIMIT_LAYERS) {
        Finding *finding = finding_add(laying->evaluator->findings, FINDING_TOO_MUCH_WORK, place->span,
                                       "this place has more than %d layers", LIMIT_LAYERS);
        finding_mend(laying->evaluator->findings, finding, "split it into several places");
        place->cause = cause_mark(laying->evaluator->findings, finding->number, place->span);
        laying->refused = true;
        return;
    }
    Layer layer = make_layer(laying->evaluator, place, node, statements);
    if (!layer.cause)
        layer.cause = laying->cause;
    *LIST_ADD(laying->evaluator->arena, &laying->layers) = layer;
    place->layer_count = laying->layers.count;
}

void lay_written_layer(Laying *laying, const Node *node) { add_layer(laying, node, node->body); }

void lay_layer_of_crosswrap(Laying *laying, const Node *node)
{
    Node alone = *node;
    alone.next = NULL;
    add_layer(laying, node, &alone);
}

/* What stands in no layer makes one together. `node` is the place, `statements` what is laid there, `slot` what is
 * noted of them. */
static void make_layers(Evaluator *evaluator, Place *place, const Node *node, const Node *statements,
                        uint32_t slot)
{
    /* A statement beside layers is a finding of its own: whether its place has a length is not asked again. */
    Laying laying = {.evaluator = evaluator,
                     .into = INTO_PLACE,
                     .place = place,
                     .place_header = place->span,
                     .length_known = true};
    place->layer_count = 0;
    if (slot & PLACE_LAYERED)
        lay_statements(&laying, statements);
    else
        add_layer(&laying, node, statements);
    place->layers = laying.layers.items;
    if (!place->layer_count && !place->cause && laying.cause)
        place->cause = cause_mark(evaluator->findings, laying.cause, place->span);
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

bool place_fits(Laying *laying, Span span)
{
    Evaluator *evaluator = laying->evaluator;
    if (evaluator->places < LIMIT_PLACES) {
        evaluator->places++;
        return true;
    }
    Finding *finding = finding_add(evaluator->findings, FINDING_TOO_MUCH_WORK, span,
                                   "this file has more than %s places and parts",
                                   show_count(evaluator->findings->words, LIMIT_PLACES));
    finding_mend(evaluator->findings, finding, "use fewer or shorter loops");
    evaluate_no_more(evaluator, finding, span);
    lay_spoil(laying, finding->number, span);
    return false;
}

/* Wide, so that only slips are found: rings that walk round the blank ten times. Common practice, no source. */
static const Range angle_of_place = {-3600, 3600, 0};

static double turns_round(double degrees)
{
    double turns = degrees / 360 - floor(degrees / 360);
    return turns < 1 ? turns : 0; /* just below 0 it comes to 1 */
}

/* What is known of a foot of the place, or of the place where it has none. */
static void see_foot(const Rod *rod, const Place *place, Here *here, int foot)
{
    double at = place->mark;
    if (place->guide) {
        at = foot_lies(place->guide, place->mark, foot).tip;
        here->values[HERE_FOOT] = place->guide->feet[foot];
    }
    if (rod->blank)
        here->values[HERE_DIAMETER] = blank_diameter(rod->blank, at);
}

double way_until(Evaluator *evaluator, const Rod *rod, const Node *limit, double mark, bool from_tip)
{
    Value value = evaluate(evaluator, limit);
    if (value.type == TYPE_BROKEN)
        return NAN;
    double tip = rod->blank ? blank_tip(rod->blank) : 0,
           way = (from_tip ? tip - value.number : value.number) - mark;
    if (fabs(way) >= length_of_place.least)
        return way;
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, limit->span,
                                   "this is where it begins: no room is left");
    finding_mend(evaluator->findings, finding, "write another place after `until:`, or a `length:`");
    return NAN;
}

/* `until: check.butt` says both how long the place is and which way it is worked. */
static void take_limit(Evaluator *evaluator, const Rod *rod, const Node *node, Place *place)
{
    const Node *limit = option_value(node->options, PLACE_UNTIL);
    if (!limit)
        return;
    double way = way_until(evaluator, rod, limit, place->mark, place->from_tip);
    place->direction = way < 0 ? -1 : 1;
    place->length = fabs(way);
    place->until_span = limit->span;
    place->length_written = true;
}

/* What is said of a place beside its mark. Returns why it cannot be planned; CAUSE_NONE if it can. */
static Cause set_out(Laying *laying, const Node *node, Place *place)
{
    Evaluator *evaluator = laying->evaluator;
    const Rod *rod = laying->rod;
    uint64_t told = evaluator->findings->told;
    evaluator->met = CAUSE_NONE;
    const Node *guide = option_value(node->options, PLACE_GUIDE);
    place->from_tip = option_choice(node, PLACE_FROM, 0) == 1;
    if (place->from_tip && rod->blank)
        place->mark = blank_tip(rod->blank) - place->mark;
    check_sign_of_mark(evaluator, rod, node, place);
    bool guided = guide || place->guide;
    if (guide) {
        Value value = evaluate(evaluator, guide);
        place->guide = value.type == TYPE_GUIDE ? value.guide : NULL;
    }
    place->direction = guided ? 0 : option_choice(node, PLACE_TOWARD, 1) == 1 ? 1 : -1;
    if (laying->here)
        see_foot(rod, place, laying->here, 0);
    place->length = option_number(evaluator, node, PLACE_LENGTH, length_of_place);
    place->length_span = option_value_span(node, PLACE_LENGTH);
    place->length_written = option_node(node->options, PLACE_LENGTH);
    take_limit(evaluator, rod, node, place);
    if (laying->here && !place->guide)
        laying->here->values[HERE_FOOT] = place->length;
    place->angle = turns_round(option_number(evaluator, node, PLACE_ANGLE, angle_of_place));
    /* A value out of its range would show again as a wrong width. */
    Cause cause = cause_since(evaluator, told);
    if (!cause)
        cause = cause_of_options(node);
    bool sound = !findings_since(evaluator->findings, told) && !(place->length_written && isnan(place->length))
                 && !(guide && !place->guide);
    return sound ? CAUSE_NONE : cause ? cause : CAUSE_UNTOLD;
}

/* If it cannot be planned it is left out, and the rod knows why. */
void lay_place(Laying *laying, const Node *node)
{
    Evaluator *evaluator = laying->evaluator;
    if (!place_fits(laying, node->span))
        return;
    Value mark = evaluate(evaluator, node->first);
    Place place = {.span = header_span(node), .mark_span = node->first->span, .mark = mark.number};
    Cause cause = set_out(laying, node, &place);
    if (mark.type != TYPE_LENGTH)
        cause = mark.cause;
    if (cause)
        lay_spoil(laying, cause, place.span);
    make_layers(evaluator, &place, node, node->body, node->slot);
    if (!cause)
        *LIST_ADD(evaluator->arena, &laying->places) = place;
}

/* --- series --- */

void add_row(Laying *laying, SeriesRow row)
{
    Evaluator *evaluator = laying->evaluator;
    uint32_t slots = evaluator->frame_slots;
    if (!place_fits(laying, row.node->span) || !lay_steps(laying, slots, row.node->span))
        return;
    row.frame = arena_copy(evaluator->arena, evaluator->frame, slots * sizeof *row.frame);
    *LIST_ADD(evaluator->arena, &laying->rows) = row;
}

void lay_row(Laying *laying, const Node *node)
{
    Value mark;
    if (node->cause) {
        lay_spoil(laying, node->cause, node->span);
        return;
    }
    if (!lay_value(laying, node->first, &mark))
        return;
    if (!type_is_list(mark.type)) {
        add_row(laying, (SeriesRow){.node = node, .mark = mark.number, .mark_span = node->first->span});
        return;
    }
    const Node *written = node->first->kind == NODE_LIST ? node->first->first : NULL;
    for (uint32_t i = 0; i < mark.list->count && lay_step(laying, node); i++) {
        add_row(laying, (SeriesRow){.node = node,
                                    .mark = mark.list->items[i].number,
                                    .mark_span = written ? written->span : node->first->span});
        written = written ? written->next : NULL;
    }
}

/* The locals of a row, to be worked out anew for each foot. */
static bool take_frame(Laying *laying, const SeriesRow *row)
{
    Evaluator *evaluator = laying->evaluator;
    if (!lay_steps(laying, evaluator->frame_slots, row->node->span))
        return false;
    evaluator->frame = arena_copy(evaluator->arena, row->frame, evaluator->frame_slots * sizeof *row->frame);
    evaluator->worked_out = 0;
    return true;
}

static void lay_at_row(Laying *laying, const Node *series, const SeriesRow *row)
{
    Evaluator *evaluator = laying->evaluator;
    const Node *node = row->node, *owner = node->detail ? node : series;
    Place place = {.span = header_span(node), .mark_span = row->mark_span, .mark = row->mark, .guide = row->guide};
    laying->here->row = place.span;
    if (!take_frame(laying, row))
        return;
    Cause cause = set_out(laying, node, &place);
    if (cause)
        lay_spoil(laying, cause, place.span);
    if (owner->slot & PLACE_EACH_FOOT && place.guide && place.guide->foot_count == 2) {
        see_foot(laying->rod, &place, laying->here, 1);
        make_layers(evaluator, &place, node, owner->body, owner->slot);
        place.tip_layers = place.layers;
        place.tip_layer_count = place.layer_count;
        see_foot(laying->rod, &place, laying->here, 0);
        if (!take_frame(laying, row))
            return;
    }
    make_layers(evaluator, &place, node, owner->body, owner->slot);
    if (!cause)
        *LIST_ADD(evaluator->arena, &laying->places) = place;
}

void lay_series(Laying *laying, const Node *node)
{
    Evaluator *evaluator = laying->evaluator;
    if (node->cause) {
        lay_spoil(laying, node->cause, node->span);
        return;
    }
    Laying series = {.evaluator = evaluator, .into = INTO_SERIES, .rod = laying->rod};
    lay_spacing(&series, node);
    lay_statements(&series, node->body);
    if (series.cause)
        lay_spoil(laying, series.cause, node->span);
    Here here = {.values = {[HERE_COUNT] = series.rows.count},
                 .no_blank = laying->rod->blank ? CAUSE_NONE : laying->rod->cause};
    Value *frame = evaluator->frame;
    evaluator->here = laying->here = &here;
    for (uint32_t i = 0; i < series.rows.count && !evaluator->stopped; i++) {
        here.values[HERE_NUMBER] = i + 1;
        lay_at_row(laying, node, &series.rows.items[i]);
    }
    evaluator->here = laying->here = NULL;
    evaluator->frame = frame;
}

void lay_rod(Evaluator *evaluator, const Node *statements, Rod *rod)
{
    Laying laying = {.evaluator = evaluator, .into = INTO_ROD, .rod = rod};
    lay_statements(&laying, statements);
    rod->places = laying.places.items;
    rod->place_count = laying.places.count;
    rod->parts = laying.parts.items;
    rod->part_count = laying.parts.count;
    if (laying.cause)
        rod->cause = cause_mark(evaluator->findings, laying.cause, rod->span);
}
