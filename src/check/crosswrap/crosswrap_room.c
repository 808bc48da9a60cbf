/* T613: beside a crosswrap whose strands turn round on tape, or at pins, the blank has to lie bare as far as they
 * run out: to a part that thread may not lie on, to a joint or to the blank's end. Other wraps are in nobody's
 * way: tape may lie on those. */
#include "check/crosswrap/crosswrap.h"

#include <math.h>

/* What the room ends at. */
typedef struct Obstacle {
    double room;      /* mm from the crosswrap's layer; INFINITY if nothing is near */
    const Part *part; /* NULL for the end of the section */
} Obstacle;

/* The nearest of what lies beside the layer, toward the tip (way +1) or the butt (-1). What it lies on already has
 * another finding. */
static Obstacle obstacle_beside(const LayerView *view, int way)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    const Section *section = &view->rod->rod->sections[view->place->section];
    double edge = way > 0 ? planned->high : planned->low;
    double to_end = way * ((way > 0 ? section->end : section->start) - edge);
    Obstacle nearest = {to_end < -CROSSWRAP_SLACK ? INFINITY : to_end, NULL};
    double from = fmin(edge, edge + way * planned->beyond) - CROSSWRAP_SLACK;
    double to = fmax(edge, edge + way * planned->beyond) + CROSSWRAP_SLACK;
    for (uint32_t i = part_end_from(view->rod, from);
         i < view->rod->part_end_count && view->rod->part_ends[i].at <= to; i++) {
        const PartEnd *end = &view->rod->part_ends[i];
        bool faces_it = end->at_tip == (way < 0) && end->part->end > end->part->start;
        if (end->part->slides && !end->part->wrapped && faces_it && way * (end->at - edge) < nearest.room)
            nearest = (Obstacle){way * (end->at - edge), end->part};
    }
    return nearest;
}

static bool lacks_room(const LayerView *view, const Obstacle *obstacle)
{
    return obstacle->room < view->layer->crosswrap->beyond - CROSSWRAP_SLACK;
}

static const char *what_lies_there(const LayerView *view, const Obstacle *obstacle, int way)
{
    const Rod *rod = view->rod->rod;
    if (obstacle->part)
        return obstacle->part->name->bytes;
    bool outermost = way > 0 ? view->place->section + 1 == rod->section_count : view->place->section == 0;
    return !outermost ? "the joint" : way > 0 ? "the blank's tip" : "the blank's butt";
}

/* Both ends of a crosswrap are one finding. */
static void say_no_room(const Check *check, const LayerView *view, Case place)
{
    UnitSystem units = check->bench->units;
    Arena *words = check->findings->words;
    const char *there = "", *rooms = "", *needed = show_length(words, units, view->layer->crosswrap->beyond);
    Finding *finding = finding_add(check->findings, FINDING_NO_ROOM_TO_TURN, place.span,
                                   "the %s beside this crosswrap has too little room",
                                   check->bench->ends == HOLD_PINS ? "row of pins" : "tape");
    finding->times = place.times;
    finding_of_rod(finding, view->rod->rod->title->bytes);
    for (int way = -1; way <= 1; way += 2) {
        Obstacle obstacle = obstacle_beside(view, way);
        if (!lacks_room(view, &obstacle))
            continue;
        const char *and = *there ? " and " : "", *what = what_lies_there(view, &obstacle, way);
        there = text_format(words, "%s%s%s", there, and, what);
        rooms = text_format(words, "%s%s%s before %s", rooms, and,
                            show_length(words, units, fmax(obstacle.room, 0)), what);
        if (obstacle.part)
            finding_relate(check->findings, finding, obstacle.part->span, "no thread is to lie on this part");
    }
    finding_label(check->findings, finding, "its strands turn round up to %s outside it; there is %s", needed,
                  rooms);
    finding_mend(check->findings, finding,
                 "keep it %s away from %s, and wind a plain band between them afterwards", needed, there);
}

void check_room_to_turn(const Check *check)
{
    Cases cases = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        if (!view->layer->crosswrap || view->layer->crosswrap->beyond <= 0)
            continue;
        Obstacle butt = obstacle_beside(view, -1), tip = obstacle_beside(view, 1);
        if (lacks_room(view, &butt) || lacks_room(view, &tip))
            cases_add(check->arena, &cases, view->layer->items[0].item->span, -fmin(butt.room, tip.room), i, 0);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++)
        say_no_room(check, &check->layers[cases.list.items[i].view], cases.list.items[i]);
}
