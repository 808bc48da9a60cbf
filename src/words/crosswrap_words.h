/* Crosswraps in words, for every page that tells of one. */
#ifndef TURNLAY_WORDS_CROSSWRAP_WORDS_H
#define TURNLAY_WORDS_CROSSWRAP_WORDS_H

#include "plan/plan.h"

/* "clockwise" or "counter-clockwise", seen from the butt. */
const char *sense_word(const PlannedCrosswrap *planned);

/* "43 deg (1:26)", "180 deg (6 o'clock)": whole degrees, and where the hour hand of a clock would point, 0 and 12
 * on the rod's line. */
void put_clock(Buffer *buffer, double degrees);
/* "43 deg"; "763 deg (2 turns and 43 deg)". */
/* "357": to the whole degree, below 360. */
void put_whole_degrees(Buffer *buffer, double degrees);
void put_way_round(Buffer *buffer, double degrees);

/* The lines of a family, 1 .. crosswrap_families: "2 crossing lines, at 0 deg (12 o'clock) and 180 deg (6
 * o'clock): 4 crossings, the first 11.79 mm from the datum, then every 20.00 mm, the last 71.79 mm". Marks as
 * the rule reads them; NULL: as the plan prints lengths. */
void put_family(Buffer *buffer, UnitSystem units, const MeasuringTool *rule, const PlannedPlace *place,
                const PlannedCrosswrap *planned, uint32_t family);

/* On which side of their neighbours strands lie: name, and in words. */
#define LAID_TABLE(X)                                                                                             \
    X(FIRST, "along the marks")                                                                                   \
    X(UP, "on the tip side") X(DOWN, "on the butt side") X(BY_TURNS, "alternately tip, butt side")
typedef enum {
#define X(name, words) LAID_##name,
    LAID_TABLE(X)
#undef X
} LaidSide;

/* Strands that follow one another and are alike: of one `strand` line, all laid on one side, or by turns above and
 * below. */
typedef struct StrandGroup {
    uint32_t first, count;
    LaidSide side; /* LAID_BY_TURNS: the first of them above; see begins_down */
    bool begins_down;
} StrandGroup;

/* The group that begins with this strand. */
StrandGroup strand_group(const PlannedCrosswrap *planned, uint32_t first);
/* "on the tip side": where the group is laid; of a spiral's first strand "first". */
const char *laid_words(const StrandGroup *group, CrosswrapKind kind);

#endif
