/* What a layer's length leaves is shared out among its fills in whole turns: each gets the whole part of
 * its quota, then the largest remainders one more (Hamilton's method), as long as it fits. */
#include "plan/layout.h"

#include "base/limits.h"
#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

/* Turns, and mm, by which a sum may miss by rounding alone. */
static const double rounding = 1e-9;

typedef struct Claim {
    int64_t remainder; /* of the quota, in units of `rounding`, so that equal ones tie */
    uint32_t group;
} Claim;

static int largest_remainder_first(const void *left, const void *right)
{
    const Claim *a = left, *b = right;
    int order = ORDER(b->remainder, a->remainder);
    return order ? order : ORDER(a->group, b->group);
}

/* Whole parts of all quotas; gives the room they leave. */
static double share_quotas(FillGroup *groups, uint32_t count, double room, Claim *claims, double *turns)
{
    Sum weights = {0}, left = {0};
    for (uint32_t g = 0; g < count; g++)
        sum_add(&weights, groups[g].weight * groups[g].copies);
    sum_add(&left, room);
    for (uint32_t g = 0, claim = 0; g < count; g++) {
        if (!groups[g].copies)
            continue;
        double quota = groups[g].weight / sum_value(&weights) * (room / groups[g].pitch);
        groups[g].turns = floor(quota + rounding);
        claims[claim++] = (Claim){llround(fmax(0, fmin(1, quota - groups[g].turns)) / rounding), g};
        sum_add(&left, -groups[g].turns * groups[g].copies * groups[g].pitch);
        *turns += groups[g].turns * groups[g].copies;
    }
    return sum_value(&left);
}

static uint32_t groups_in_use(FillGroup *groups, uint32_t count)
{
    uint32_t used = 0;
    for (uint32_t g = 0; g < count; g++) {
        groups[g].turns = 0;
        used += groups[g].copies > 0;
    }
    return used;
}

double share_turns(Arena *arena, FillGroup *groups, uint32_t count, double room, double limit)
{
    uint32_t used = groups_in_use(groups, count);
    if (!(room > 0))
        return room;
    Claim *claims = arena_take_many(arena, used, sizeof *claims);
    double turns = 0, left = share_quotas(groups, count, room, claims, &turns);
    qsort(claims, used, sizeof *claims, largest_remainder_first);
    /* Room only shrinks: a fill whose copies do not fit once is out for good. */
    while (used && turns <= limit) {
        uint32_t kept = 0;
        for (uint32_t i = 0; i < used && turns <= limit; i++) {
            FillGroup *group = &groups[claims[i].group];
            double width = group->copies * group->pitch;
            if (width > left + rounding)
                continue;
            group->turns++;
            turns += group->copies;
            left -= width;
            claims[kept++] = claims[i];
        }
        used = kept;
    }
    return left;
}

double measured_width(const Layout *layout)
{
    Sum width = {0};
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++)
        sum_add(&width, layout->measures[i].width);
    return sum_value(&width);
}

double measured_turns(const Layout *layout)
{
    double turns = 0;
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++)
        turns += layout->measures[i].turns;
    return turns;
}

static void collect_groups(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    if (layer->group_count > layout->group_room) {
        layout->group_room = layer->group_count;
        layout->groups = arena_take_many(layout->scratch, layer->group_count, sizeof *layout->groups);
    }
    for (uint32_t g = 0; g < layer->group_count; g++)
        layout->groups[g] = (FillGroup){0};
    for (uint32_t i = 0; i < layer->item_count; i++) {
        if (!is_fill(&layer->items[i]) || layout->measures[i].stays)
            continue;
        FillGroup *group = &layout->groups[layer->items[i].extent.group];
        if (!group->copies++) {
            group->item = i;
            group->weight = layer->items[i].extent.amount;
            group->pitch = item_pitch(layout, &layer->items[i]);
        }
    }
}

static void set_fills(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        const Item *item = &layer->items[i];
        if (!is_fill(item) || layout->measures[i].stays)
            continue;
        layout->measures[i].turns = layout->groups[item->extent.group].turns;
        layout->measures[i].width = layout->measures[i].turns * item_pitch(layout, item);
    }
}

/* The length that gives every fill so many turns that it can be bound and ended. */
static double room_for_all(const Layout *layout)
{
    const Bench *bench = &layout->job->bench;
    double weights = 0, room = 0;
    for (uint32_t g = 0; g < layout->layer->layer->group_count; g++)
        weights += layout->groups[g].weight * layout->groups[g].copies;
    for (uint32_t g = 0; g < layout->layer->layer->group_count; g++) {
        const FillGroup *group = &layout->groups[g];
        if (group->copies)
            room = fmax(room, ceil(bench->bind + bench->final) * group->pitch * weights / group->weight);
    }
    return room;
}

static const char *what_is_left(Layout *layout, double room)
{
    const char *shown = show_length(layout->findings->words, layout->job->bench.units, fabs(room));
    if (room > LAYOUT_SLACK)
        return text_format(layout->findings->words,
                           "only %s is left to fill, and this fill gets no whole turn of it", shown);
    if (room < -LAYOUT_SLACK)
        return text_format(layout->findings->words, "no room is left for this fill: the rest is %s too wide",
                           shown);
    return "no room is left for this fill: the rest takes it all";
}

/* A longer place, or else a shorter band beside the fills; `taken`: what is not for the fills. */
static void mend_fill(Layout *layout, Finding *finding, double taken)
{
    const Place *place = layout->place->place;
    UnitSystem units = layout->job->bench.units;
    double wanted = taken + room_for_all(layout), turns = 0;
    LengthWriting writing = hand_writing(layout, place->length_span);
    double length = round_up_mm(writing, layout->layer->layer->offset + wanted);
    if (!place->guide && isnan(layout->layer->layer->length) && can_lengthen(layout, length)) {
        const char *shown = write_length(layout->findings->words, writing, length);
        finding_mend(layout->findings, finding, "make the place longer: `length: %s`", shown);
        finding_edit(layout->findings, finding, place->length_span, "%s", shown);
        return;
    }
    double missing = wanted - least_room(layout);
    const Item *band = shorter_band(layout, missing, &turns);
    if (!band) {
        finding_mend(layout->findings, finding, "make the other bands narrower by %s in all, or take this one out",
                     show_length(layout->findings->words, units, missing));
        return;
    }
    const char *shown = show_turns(layout->findings->words, turns);
    finding_mend(layout->findings, finding, "make a band beside it narrower: `%s` of %s", shown,
                 first_thread_name(band->strands));
    finding_edit(layout->findings, finding, band->extent.span, "%s", shown);
}

/* What the fills take now. */
static double filled(const Layout *layout)
{
    double width = 0;
    for (uint32_t g = 0; g < layout->layer->layer->group_count; g++)
        width += layout->groups[g].turns * layout->groups[g].copies * layout->groups[g].pitch;
    return width;
}

/* Inlays of another pitch have changed the room for the fills. */
static void nothing_left(Layout *layout, const FillGroup *group)
{
    double room = layout->layer->unfilled + filled(layout);
    const PlannedLayer *layer = layout->layer;
    UnitSystem units = layout->job->bench.units;
    const Item *item = &layer->layer->items[group->item];
    Finding *finding =
        finding_add(layout->findings, FINDING_NOTHING_LEFT_TO_FILL, item->span, "%s", what_is_left(layout, room));
    finding_label(layout->findings, finding, "a turn here is %s wide",
                  show_fine(layout->findings->words, units, item_pitch(layout, item)));
    finding_relate(layout->findings, finding, layer->layer->span, "this layer is %s long",
                   show_length(layout->findings->words, units, layer->length));
    if (finding_is_kept(finding))
        mend_fill(layout, finding, layer->length - room);
}

/* Inlays of another pitch change their band's width a little, and how many there are may hang on its
 * turns: share, set the inlays, share what is then left, until nothing changes. From the fourth round on
 * the change only grows, so it ends. */
static double share_room(Layout *layout, double room)
{
    double change = 0, left = 0;
    for (int round = 0; round < 64; round++) {
        left = share_turns(layout->scratch, layout->groups, layout->layer->layer->group_count, room - change,
                           (double)layout->turns_left);
        set_fills(layout);
        if (measured_turns(layout) > (double)layout->turns_left)
            return left;
        double found = place_inlays(layout);
        if (fabs(found - change) <= rounding || (round >= 4 && found < change))
            return left + change - found;
        change = round < 4 ? found : fmax(found, change);
    }
    return left;
}

bool fill_layer(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    collect_groups(layout);
    double room = layer->length - measured_width(layout);
    const FillGroup *unfilled = NULL;
    layer->unfilled = share_room(layout, room);
    for (uint32_t g = layer->layer->group_count; g-- > 0;)
        if (layout->groups[g].copies && layout->groups[g].turns < 1)
            unfilled = &layout->groups[g];
    if (!unfilled)
        return true;
    nothing_left(layout, unfilled);
    return false;
}
