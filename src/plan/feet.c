/* Places of a rod along the axis. A guide's feet are worked from their outer ends toward the ring, so
 * the foot toward the butt is worked toward the tip. */
#include "plan/layout.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

#define GATHERED UINT32_MAX

static PlannedPlace plain_place(const Place *place)
{
    return (PlannedPlace){.place = place,
                          .foot = -1,
                          .direction = place->direction,
                          .start = place->mark,
                          .length = place->length,
                          .foot_tip = NAN,
                          .foot_end = NAN,
                          .ramp_end = NAN};
}

static PlannedPlace foot_place(const Place *place, int foot)
{
    const Guide *guide = place->guide;
    FootLies lies = foot_lies(guide, place->mark, foot);
    return (PlannedPlace){.place = place,
                          .foot = foot,
                          .direction = lies.direction,
                          .start = lies.tip - lies.direction * guide->before,
                          .length = guide->feet[foot] + guide->before,
                          .foot_tip = lies.tip,
                          .foot_end = lies.end,
                          .ramp_end = lies.tip + lies.direction * guide->ramp};
}

static bool fills_room(const Layer *layers, uint32_t count)
{
    for (uint32_t l = 0; l < count; l++)
        if (isnan(layers[l].length) && layers[l].group_count > 0)
            return true;
    return false;
}

static void compare_feet(Layout *layout, const Place *place)
{
    const Guide *guide = place->guide;
    if (guide->foot_count < 2 || !(fabs(guide->feet[0] - guide->feet[1]) > 1e-9)
        || !(fills_room(place->layers, place->layer_count)
             || fills_room(place->tip_layers, place->tip_layer_count)))
        return;
    UnitSystem units = layout->job->bench.units;
    const char *shown[2];
    for (int foot = 0; foot < 2; foot++)
        shown[foot] = show_length(layout->findings->words, units, guide->feet[foot]);
    Finding *finding = finding_add(layout->findings, FINDING_UNEQUAL_FEET, place->mark_span,
                                   "the feet of %s are %s and %s long, so their fills come out unequal",
                                   guide->name->bytes, shown[0], shown[1]);
    int shorter = guide->feet[1] < guide->feet[0];
    const char *length =
        write_length(layout->findings->words, width_writing(layout, guide->foot_span), guide->feet[shorter]);
    finding_label(layout->findings, finding, "filled to the end of each foot");
    finding_relate(layout->findings, finding, guide->foot_span, "the two feet");
    finding_mend(layout->findings, finding,
                 "if the guide's maker allows filing, dress the longer foot down to %s, off the rod, and write "
                 "`foot: [%s, %s]`",
                 length, length, length);
    finding_edit(layout->findings, finding, guide->foot_span, "[%s, %s]", length, length);
}

static int from_the_butt(const void *left, const void *right)
{
    const Place *a = *(const Place *const *)left, *b = *(const Place *const *)right;
    int order = ORDER(a->mark, b->mark);
    return order ? order : ORDER(a, b); /* of one rod, so in the source's order */
}

static int from_the_tip(const void *left, const void *right)
{
    const Place *a = *(const Place *const *)left, *b = *(const Place *const *)right;
    int order = ORDER(b->mark, a->mark);
    return order ? order : ORDER(a, b);
}

/* By what is wound first: of a guide its first foot. */
static uint32_t section_of_place(const Rod *rod, const Place *place)
{
    if (!place->guide)
        return section_at(rod, place->mark + place->direction * 2 * LAYOUT_SLACK);
    PlannedPlace foot = foot_place(place, 0);
    return section_at(rod, (foot.foot_tip + foot.foot_end) / 2);
}

/* At the bench lies one section: all its places are worked before those of another. */
static void gather_sections(Layout *layout, const Place **places)
{
    const Rod *rod = layout->rod->rod;
    uint32_t count = rod->place_count, gathered = 0;
    if (rod->section_count < 2)
        return;
    const Place **listed = arena_copy(layout->scratch, places, count * sizeof *places);
    uint32_t *sections = arena_take_many(layout->scratch, count, sizeof *sections);
    for (uint32_t i = 0; i < count; i++)
        sections[i] = section_of_place(rod, listed[i]);
    for (uint32_t first = 0; first < count; first++)
        for (uint32_t i = first, wanted = sections[first]; wanted != GATHERED && i < count; i++) {
            if (sections[i] != wanted)
                continue;
            places[gathered++] = listed[i];
            sections[i] = GATHERED;
        }
}

/* The rod's places in the order in which the builder works them. */
static const Place **places_in_order(Layout *layout)
{
    const Rod *rod = layout->rod->rod;
    const Place **places = arena_take_many(layout->scratch, rod->place_count, sizeof *places);
    for (uint32_t i = 0; i < rod->place_count; i++)
        places[i] = &rod->places[i];
    if (layout->job->bench.order != ORDER_SOURCE)
        qsort(places, rod->place_count, sizeof *places,
              layout->job->bench.order == ORDER_BUTT ? from_the_butt : from_the_tip);
    gather_sections(layout, places);
    return places;
}

void plan_places(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    const Place **places = places_in_order(layout);
    uint32_t count = 0;
    for (uint32_t i = 0; i < rod->rod->place_count; i++)
        count += rod->rod->places[i].guide ? rod->rod->places[i].guide->foot_count : 1;
    rod->places = arena_take_many(layout->arena, count, sizeof *rod->places);
    for (uint32_t i = 0; i < rod->rod->place_count; i++) {
        const Place *place = places[i];
        const Guide *guide = place->guide;
        uint32_t feet = guide ? guide->foot_count : 1, section = section_of_place(rod->rod, place);
        for (uint32_t foot = 0; foot < feet; foot++) {
            PlannedPlace *planned = &rod->places[rod->place_count++];
            *planned = guide ? foot_place(place, (int)foot) : plain_place(place);
            planned->section = section;
        }
        if (guide && rod->rod->blank)
            compare_feet(layout, place);
    }
}
