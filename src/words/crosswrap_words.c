#include "words/crosswrap_words.h"
#include "words/trade_words.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"

#include <math.h>

const char *sense_word(const PlannedCrosswrap *planned)
{
    return planned->sense > 0 ? "clockwise" : "counter-clockwise";
}

/* --- round the blank --- */

enum { WHOLE_TURN = 360, DEGREES_HALF_AN_HOUR = 15, HOURS = 12 };

void put_clock(Buffer *buffer, double degrees)
{
    unsigned whole = (unsigned)lround(degrees) % WHOLE_TURN;
    unsigned halves = (whole + DEGREES_HALF_AN_HOUR / 2) / DEGREES_HALF_AN_HOUR % (2 * HOURS);
    unsigned hour = halves / 2 ? halves / 2 : HOURS;
    const char *about = whole % DEGREES_HALF_AN_HOUR ? "about " : "";
    buffer_format(buffer, halves % 2 ? "%u deg (%s%u:30)" : "%u deg (%s%u o'clock)", whole, about, hour);
}

void put_whole_degrees(Buffer *buffer, double degrees)
{
    buffer_format(buffer, "%u", (unsigned)lround(degrees) % WHOLE_TURN);
}

void put_way_round(Buffer *buffer, double degrees)
{
    unsigned long long whole = (unsigned long long)llround(degrees), turns = whole / WHOLE_TURN;
    buffer_format(buffer, "%llu deg", whole);
    if (turns)
        buffer_format(buffer, " (%llu %s and %llu deg)", turns, turns_word(turns), whole % WHOLE_TURN);
}

/* --- lines --- */

enum { MOST_NAMED = 4 }; /* lines whose angles are all told; more are told by the way from one to the next */

static void put_angles(Buffer *buffer, const PlannedCrosswrap *planned, uint32_t first)
{
    uint32_t count = planned->starts;
    if (count > MOST_NAMED) {
        buffer_format(buffer, "%u crossing lines, ", (unsigned)count);
        buffer_number_short(buffer, (double)WHOLE_TURN / count, 1);
        buffer_text(buffer, " deg apart, one of them at ");
        put_clock(buffer, clock_degrees(crosswrap_line_turn(planned, first)));
        return;
    }
    if (count == 1)
        buffer_text(buffer, "the crossing line at ");
    else
        buffer_format(buffer, "%u crossing lines, at ", (unsigned)count);
    for (uint32_t i = 0; i < count; i++) {
        buffer_text(buffer, i == 0 ? "" : i + 1 == count ? " and " : ", ");
        put_clock(buffer, clock_degrees(crosswrap_line_turn(planned, first + i)));
    }
}

enum { MOST_LISTED = 24 }; /* crossings of one line of each family whose places are all told */

/* rule: what marks are told to; NULL where they are told as the plan prints lengths. */
static void put_mark(Buffer *buffer, UnitSystem units, const MeasuringTool *rule, double mm)
{
    if (rule)
        put_read(buffer, *rule, QUANTITY_WIDTH, mm);
    else
        put_length(buffer, units, mm);
}

static void put_marks(Buffer *buffer, UnitSystem units, const MeasuringTool *rule, const PlannedPlace *place,
                      const PlannedCrosswrap *planned, uint32_t line, uint32_t marks)
{
    bool listed = crosswrap_families(planned) * marks <= MOST_LISTED;
    for (uint32_t i = 0; listed && i < marks; i++) {
        buffer_text(buffer, i == 0 ? "" : i + 1 == marks ? " and " : ", ");
        put_mark(buffer, units, rule, from_datum(place, crosswrap_mark(planned, line, i)));
    }
    if (!listed) {
        buffer_text(buffer, "the first ");
        put_mark(buffer, units, rule, from_datum(place, crosswrap_mark(planned, line, 0)));
        buffer_text(buffer, ", then every ");
        /* what is rounded to a rule would add up when it is said again and again */
        buffer_text(buffer,
                    show_decimal(buffer->arena, rule ? rule->system : units, QUANTITY_WIDTH, planned->spacing));
        buffer_text(buffer, ", the last ");
        put_mark(buffer, units, rule, from_datum(place, crosswrap_mark(planned, line, marks - 1)));
    }
    buffer_text(buffer, " from the mark");
}

void put_family(Buffer *buffer, UnitSystem units, const MeasuringTool *rule, const PlannedPlace *place,
                const PlannedCrosswrap *planned, uint32_t family)
{
    uint32_t line = (family - 1) * planned->starts, marks = crosswrap_mark_count(planned, line);
    put_angles(buffer, planned, line);
    if (!marks) {
        buffer_text(buffer, ": no crossing inside the field");
        return;
    }
    buffer_format(buffer, marks == 1 ? ": %u crossing, " : ": %u crossings, ", (unsigned)marks);
    put_marks(buffer, units, rule, place, planned, line, marks);
}

/* --- strands --- */

static LaidSide side_of(const BundleStrand *strand)
{
    return strand->side > 0 ? LAID_UP : strand->side < 0 ? LAID_DOWN : LAID_FIRST;
}

StrandGroup strand_group(const PlannedCrosswrap *planned, uint32_t first)
{
    const BundleStrand *strands = planned->strands;
    StrandGroup group = {
        .first = first, .count = 1, .side = side_of(&strands[first]), .begins_down = strands[first].side < 0};
    for (uint32_t i = first + 1; i < planned->strand_count; i++, group.count++) {
        LaidSide side = side_of(&strands[i]), before = side_of(&strands[i - 1]);
        if (strands[i].line != strands[first].line || before == LAID_FIRST || side == LAID_FIRST)
            break;
        if (group.count == 1 && side != before)
            group.side = LAID_BY_TURNS;
        if ((group.side == LAID_BY_TURNS) != (side != before))
            break;
    }
    return group;
}

const char *laid_words(const StrandGroup *group, CrosswrapKind kind)
{
    static const char *const words[] = {
#define X(name, words) words,
        LAID_TABLE(X)
#undef X
    };
    if (group->side == LAID_FIRST && kind == CROSSWRAP_SPIRAL)
        return "first";
    if (group->side == LAID_BY_TURNS && group->begins_down)
        return "alternately butt, tip side";
    return words[group->side];
}
