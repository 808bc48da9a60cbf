/* Where places lie on the blank, over one another, or on a guide foot's ramp. */
#include "plan/layout.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

typedef struct PlaceExtent {
    double low, high;
    const PlannedPlace *place;
} PlaceExtent;

static void take_in(double x, double *low, double *high)
{
    *low = fmin(*low, x);
    *high = fmax(*high, x);
}

bool place_reach(const PlannedPlace *place, double *low, double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    if (place->foot >= 0) {
        take_in(place->foot_tip, low, high);
        take_in(place->foot_end, low, high);
    }
    for (uint32_t l = 0; l < place->layer_count; l++) {
        if (!place->layers[l].laid || !place->layers[l].run_count)
            continue;
        take_in(place->layers[l].start, low, high);
        take_in(place->layers[l].end, low, high);
    }
    return *low <= *high;
}

void mend_by_moving(Layout *layout, Finding *finding, const Place *place, double by)
{
    const char *mark = finding_is_kept(finding) ? moved_mark(layout, place, &by) : NULL;
    if (!mark || !can_move(layout, place, by))
        return;
    finding_mend(layout->findings, finding, "move it toward the %s: `at %s`%s", by > 0 ? "tip" : "butt", mark,
                 place->from_tip ? " from the tip" : "");
    finding_edit(layout->findings, finding, place->mark_span, "%s", mark);
}

/* All that a place takes: its mark or foot, its room, its layers. */
static void whole_reach(const PlannedPlace *place, double *low, double *high)
{
    double laid_low, laid_high;
    take_in(place->start, low, high);
    if (!isnan(place->length))
        take_in(place->start + place->direction * place->length, low, high);
    if (place_reach(place, &laid_low, &laid_high)) {
        take_in(laid_low, low, high);
        take_in(laid_high, low, high);
    }
}

/* Whether the single foot of a guide would lie on the blank if it lay on the other side of its ring. */
static bool lies_if_turned(const PlannedPlace *place, const Blank *blank, bool at_tip, double outer)
{
    const Guide *guide = place->place->guide;
    if (!guide || guide->foot_count > 1 || guide->on_butt_side == at_tip)
        return false;
    double ring = place->foot_end + (at_tip ? -guide->gap : guide->gap) / 2, turned = 2 * ring - outer;
    return fmin(ring, turned) >= blank_butt(blank) - LAYOUT_SLACK
           && fmax(ring, turned) <= blank_tip(blank) + LAYOUT_SLACK;
}

static void check_ends(Layout *layout, const PlannedPlace *place, double low, double high)
{
    const Rod *rod = layout->rod->rod;
    const Blank *blank = rod->blank;
    UnitSystem units = layout->job->bench.units;
    double over_butt = blank_butt(blank) - low, over_tip = high - blank_tip(blank);
    if (over_butt <= LAYOUT_SLACK && over_tip <= LAYOUT_SLACK)
        return;
    bool at_tip = over_tip > over_butt, several = rod->section_count > 1;
    const Blank *at = several ? rod->sections[at_tip ? rod->section_count - 1 : 0].blank : blank;
    LengthPair shown = show_apart(layout->findings->words, units, QUANTITY_WIDTH, at_tip ? high : low,
                                  at_tip ? blank_tip(blank) : blank_butt(blank));
    Finding *finding = finding_add(layout->findings, FINDING_OFF_THE_BLANK, place->place->mark_span,
                                   "this place reaches %s past the %s station of %s", shown.apart,
                                   at_tip ? "last" : "first", at->name->bytes);
    finding_label(layout->findings, finding, "from %s to %s from the butt",
                  show_quantity(layout->findings->words, units, QUANTITY_PLACE, low),
                  show_quantity(layout->findings->words, units, QUANTITY_PLACE, high));
    finding_relate(layout->findings, finding, at->span,
                   several ? "the rod goes from %s to %s" : "stations from %s to %s",
                   show_quantity(layout->findings->words, units, QUANTITY_PLACE, blank_butt(blank)),
                   show_quantity(layout->findings->words, units, QUANTITY_PLACE, blank_tip(blank)));
    finding_mend(layout->findings, finding, "move it, make it shorter, or measure the blank further");
    if (lies_if_turned(place, blank, at_tip, at_tip ? high : low)) {
        finding_mend(
            layout->findings, finding,
            "turn its foot round, with `side: %s` in guide %s; what is pushed over the blank's end, such as a "
            "tip-top, is no guide but a `part`",
            at_tip ? "butt" : "tip", place->place->guide->name->bytes);
        return;
    }
    mend_by_moving(layout, finding, place->place, at_tip ? -over_tip : over_butt);
    if (finding->has_edit && at_tip)
        finding_mend(layout->findings, finding, "%s, or measure the blank further", finding->mend);
}

static int by_position(const void *left, const void *right)
{
    const PlaceExtent *a = left, *b = right;
    int order = ORDER(a->low, b->low);
    return order ? order : ORDER(a->place, b->place);
}

static bool on_ramp(const PlannedPlace *foot, double x)
{
    double from = foot->direction * foot->foot_tip, to = foot->direction * foot->ramp_end;
    return foot->foot >= 0 && foot->direction * x > from + LAYOUT_SLACK && foot->direction * x < to - LAYOUT_SLACK;
}

/* Whether the wrap's end, not its start, lies on the other's ramp. */
static bool ends_on_ramp(const PlannedPlace *place, const PlannedPlace *foot)
{
    for (uint32_t l = 0; place->foot < 0 && l < place->layer_count; l++)
        if (place->layers[l].laid && place->layers[l].run_count && on_ramp(foot, place->layers[l].end))
            return true;
    return false;
}

static void report_overlap(Layout *layout, const PlaceExtent *before, const PlaceExtent *after)
{
    double by = before->high - after->low;
    const PlannedPlace *first = before->place, *second = after->place;
    bool ramp = ends_on_ramp(first, second) || ends_on_ramp(second, first);
    UnitSystem units = layout->job->bench.units;
    const char *overlap =
        show_apart(layout->findings->words, units, QUANTITY_WIDTH, fmin(before->high, after->high), after->low)
            .apart;
    const char *other =
        first->place->guide
            ? place_label(layout->findings->words, layout->job, layout->rod->rod, first)
            : text_format(layout->findings->words, "the one at %s",
                          place_mark(layout->findings->words, layout->job, layout->rod->rod, first));
    Finding *finding =
        ramp ? finding_add(layout->findings, FINDING_ENDS_ON_RAMP, second->place->mark_span,
                           "a wrap ends on a guide foot's ramp, %s over the place of %s", overlap, other)
             : finding_add(layout->findings, FINDING_PLACES_OVERLAP, second->place->mark_span,
                           "this place overlaps %s by %s", other, overlap);
    finding_label(layout->findings, finding, "it begins %s from the butt",
                  show_quantity(layout->findings->words, units, QUANTITY_PLACE, after->low));
    finding_relate(layout->findings, finding, first->place->mark_span, "the other reaches %s from the butt",
                   show_quantity(layout->findings->words, units, QUANTITY_PLACE, before->high));
    finding_mend(layout->findings, finding, "move one of the two by %s, or make one shorter%s", overlap,
                 first->host || second->host ? ", or set it all within the crosswrap" : "");
    mend_by_moving(layout, finding, second->place, by);
    if (!finding->has_edit)
        mend_by_moving(layout, finding, first->place, -by);
}

static bool lies_on(const PlaceExtent *guest, const PlaceExtent *host)
{
    return guest->place->host == host->place && stays_on_host(guest->place, guest->low, guest->high);
}

/* In the order of their lower ends each is held against the furthest reaching one of another place. */
static void compare_reaches(Layout *layout, PlaceExtent *reaches, uint32_t count)
{
    if (count)
        qsort(reaches, count, sizeof *reaches, by_position);
    const PlaceExtent *furthest = NULL, *other = NULL; /* other: the furthest of another place than furthest's */
    for (uint32_t i = 0; i < count; i++) {
        const PlaceExtent *reach = &reaches[i];
        bool same = furthest && furthest->place->place == reach->place->place;
        const PlaceExtent *before = same ? other : furthest;
        bool hosted = before && (lies_on(before, reach) || lies_on(reach, before));
        if (before && !hosted && before->high > reach->low + LAYOUT_SLACK)
            report_overlap(layout, before, reach);
        if (!furthest || reach->high > furthest->high) {
            other = same ? other : furthest;
            furthest = reach;
        } else if (!same && (!other || reach->high > other->high)) {
            other = reach;
        }
    }
}

/* Places that lie on a crosswrap are held against one another only: what overlaps them overlaps what they lie on.
 */
static void check_overlaps(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    PlaceExtent *reaches = arena_take_many(layout->scratch, rod->place_count, sizeof *reaches);
    PlaceExtent *guests = arena_take_many(layout->scratch, rod->place_count, sizeof *guests);
    uint32_t count = 0, guest_count = 0;
    for (uint32_t i = 0; i < rod->place_count; i++) {
        PlaceExtent reach = {.place = &rod->places[i]};
        if (!place_reach(reach.place, &reach.low, &reach.high))
            continue;
        if (stays_on_host(reach.place, reach.low, reach.high))
            guests[guest_count++] = reach;
        else
            reaches[count++] = reach;
    }
    compare_reaches(layout, reaches, count);
    compare_reaches(layout, guests, guest_count);
}

/* The last run of the first of the layer's wraps, which end before each gap and at its end, that ends on the ramp;
 * NULL if none does. */
static const Run *run_to_ramp(const PlannedPlace *place, const PlannedLayer *layer)
{
    for (uint32_t r = 0; r < layer->run_count; r++) {
        bool last = r + 1 == layer->run_count || layer->runs[r + 1].role == RUN_GAP;
        if (last && layer->runs[r].role != RUN_GAP && on_ramp(place, layer->runs[r].end))
            return &layer->runs[r];
    }
    return NULL;
}

/* The first layer over a foot has to hold it: one that ends ahead of the foot's tip does not even reach it. Its
 * last run then. */
static const Run *run_ahead_of_foot(const PlannedPlace *place, const PlannedLayer *layer)
{
    for (const PlannedLayer *below = place->layers; below < layer; below++)
        if (below->layer->over)
            return NULL;
    const Run *last = NULL;
    for (uint32_t r = 0; r < layer->run_count; r++)
        last = layer->runs[r].turns ? &layer->runs[r] : last;
    return last && place->direction * (place->foot_tip - layer->end) >= 0 ? last : NULL;
}

void check_ramp(Layout *layout)
{
    const PlannedLayer *layer = layout->layer;
    const PlannedPlace *place = layout->place;
    if (place->foot < 0 || !layer->layer->over)
        return;
    const Run *ahead = run_ahead_of_foot(place, layer), *last = ahead ? ahead : run_to_ramp(place, layer);
    if (!last)
        return;
    UnitSystem units = layout->job->bench.units;
    double end = ahead ? layer->end : last->end, missing = fabs(place->ramp_end - end), turns = 0;
    const char *shown = show_length(layout->findings->words, units, missing);
    Finding *finding =
        finding_add(layout->findings, FINDING_ENDS_ON_RAMP, layer->layer->span,
                    ahead ? "this wrap ends before the foot of %s, %s short of its level part"
                          : "this wrap ends on the ramp of %s, %s short of the level part of the foot",
                    place->place->guide->name->bytes, shown);
    finding_label(layout->findings, finding, ahead ? "it does not hold the foot" : "it would slide down the ramp");
    finding_relate(layout->findings, finding, place->place->guide->ramp_span, "the ramp is %s long",
                   show_length(layout->findings->words, units, fabs(place->ramp_end - place->foot_tip)));
    double more = ceil((missing - LAYOUT_SLACK / 2) / last->pitch);
    finding_mend(layout->findings, finding, "make it at least %s (%s) wider, so that it climbs the ramp",
                 show_turns(layout->findings->words, more),
                 show_length(layout->findings->words, units, more * last->pitch));
    bool simple = isnan(layer->unfilled) && end == layer->end;
    double most = isnan(layer->length) ? (double)INFINITY : least_room(layout) - layer->width;
    const Item *band = simple && finding_is_kept(finding) ? longer_band(layout, missing, most, &turns) : NULL;
    if (!band)
        return;
    const char *count = show_turns(layout->findings->words, turns);
    finding_mend(layout->findings, finding, "make a band wider, so that it climbs the ramp: `%s`", count);
    finding_edit(layout->findings, finding, band->extent.span, "%s", count);
}

void check_reach(Layout *layout)
{
    const PlannedRod *rod = layout->rod;
    for (uint32_t i = 0, next; i < rod->place_count; i = next) {
        double low = INFINITY, high = -INFINITY;
        for (next = i; next < rod->place_count && rod->places[next].place == rod->places[i].place; next++)
            whole_reach(&rod->places[next], &low, &high);
        check_ends(layout, &rod->places[i], low, high);
        check_joints(layout, rod->places[i].place, low, high);
    }
    check_overlaps(layout);
}
