/* Words for where round the blank a place stands. */
#include "base/visible.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"
#include "words/crosswrap_words.h"
#include "words/sheet_maker.h"

#include <math.h>

/* The way there with a strip of paper round what lies at the mark; on a crosswrap nobody can say how thick that
 * is. */
static void put_way(SheetMaker *maker, const PlannedPlace *place, double degrees)
{
    const Blank *surface = maker->rod->rod->surface;
    double shorter = fmin(degrees, 360 - degrees);
    if (shorter > 180 - 0.5 || place->host || !surface) {
        buffer_text(&maker->words, " from the rod's line");
        return;
    }
    buffer_text(&maker->words, ": ");
    maker_rule(maker, arc_length(blank_diameter(surface, place->place->mark), shorter));
    buffer_format(&maker->words, " %s round the blank from the rod's line",
                  degrees < 180 ? "clockwise" : "counter-clockwise");
}

void put_angle(SheetMaker *maker, const PlannedPlace *place)
{
    double degrees = clock_degrees(place->place->angle);
    if (degrees == 0) {
        buffer_text(&maker->words, "on the rod's line");
        return;
    }
    buffer_text(&maker->words, "at ");
    put_clock(&maker->words, degrees);
    put_way(maker, place, degrees);
}

/* "ring16 50 cm from the butt on the rod's line; ring12 ... at 60 deg (2 o'clock)": every guide once. */
void put_all_angles(SheetMaker *maker)
{
    const PlannedRod *rod = maker->rod->rod;
    const Place *before = NULL;
    for (uint32_t i = 0; i < rod->place_count; i++) {
        const Place *place = rod->places[i].place;
        if (!place->guide || place == before)
            continue;
        buffer_text(&maker->words, before ? "; " : "");
        buffer_format(&maker->words, "%s ", visible(maker->arena, place->guide->name->bytes));
        put_along_rod(maker, &rod->places[i], place->mark);
        if (place->angle == 0)
            buffer_text(&maker->words, " on the rod's line");
        else {
            buffer_text(&maker->words, " at ");
            put_clock(&maker->words, clock_degrees(place->angle));
        }
        before = place;
    }
}
