/* Threads chosen by their colours, as one side by side on their spools: which lie between two, the smoothest walk
 * from the one to the other through them, where a shade is missing, and which would be mistaken. Knows no rod. */
#ifndef TURNLAY_PLAN_SHADES_H
#define TURNLAY_PLAN_SHADES_H

#include "meaning/job.h"
#include "trade/melting.h"
#include "trade/mixing.h"

/* How far from the path of colours that two shades mix to one that lies between them may be, as a share of the
 * path's length, both in CIELAB. Common practice, no source: at more, another hue comes in. */
#define ASIDE_SHARE 0.25
/* Shades that are named as missing in one step at most: nobody looks for more spools at once. Common practice, no
 * source. */
enum { MOST_MISSING = 7 };

/* What is asked. */
typedef struct ShadesTask {
    const Thread *const
        *threads; /* with a colour, in the order of declaration; at most LIMIT_SHADES are compared */
    uint32_t count;
    const char *const *names; /* by Thread.index: what pages call each; NULL: by their own names */
    const Thread *from, *to;  /* two of them; NULL: all are looked at, one by one */
    Vision vision;            /* whose eyes: distances, paths and jumps are as these see */
    double alike, jump;       /* CIEDE2000, as of Bench */
    double blur;              /* mm on the rod, from far: eye_blur */
    const Light *ground;      /* what they lie on; NULL: on their spools, where nothing shows through */
} ShadesTask;

/* A thread with a colour that is looked at. */
typedef struct ThreadShade {
    const Thread *thread;
    const char *name;
    Lab seen;
    double position;   /* on the path, 0 to 1; NAN where no two threads were named */
    double aside;      /* how far from the path there, CIELAB; NAN likewise */
    uint32_t nearest;  /* the shade that differs least; NO_SHADE where it is alone */
    double difference; /* from that one, CIEDE2000 */
    unsigned pattern;  /* that tells it from those that it may be mistaken for: see thread_patterns.h */
} ThreadShade;
#define NO_SHADE UINT32_MAX

/* From one shade of the walk to the next. */
typedef struct ShadeStep {
    uint32_t from, to;
    double difference; /* CIEDE2000 */
    double jump;       /* that a fade by heart between the two shows from far: melting_jump */
    bool melts;        /* no more than what is seen as a line */
    /* Where it does not: the fewest shades, evenly along the path between the two, that make each part melt. */
    uint32_t missing[MOST_MISSING]; /* 0xRRGGBB, from the first of the two on */
    uint32_t missing_count;
    bool enough; /* false: as many as there may be are too few, and the one halfway is named alone */
} ShadeStep;

/* Two shades that may be mistaken: indices, first < second. */
typedef struct ShadePair {
    uint32_t first, second;
    double difference; /* to the eyes that see least of it, CIEDE2000; below MISTAKABLE */
    unsigned visions;  /* a bit for each Vision to which it is below */
} ShadePair;

typedef struct Shades {
    ShadesTask task;
    ThreadShade *shades; /* in the order of declaration; of two threads: first the one, those between as they lie,
                      the other */
    uint32_t count;
    double difference;   /* of the two, CIEDE2000 */
    const MixPath *path; /* between them, as it is seen */
    ShadeStep *steps;    /* of the walk, in its order */
    uint32_t step_count;
    ShadePair *pairs; /* those that differ least first */
    uint32_t pair_count, pairs_left_out;
    uint32_t uncoloured; /* threads that have no colour to be chosen by: set by whoever leaves them out */
} Shades;

/* Where two threads are named:
 * - Between them lies a shade whose nearest point on the path is told apart from either end (alike), as the shade
 *   itself is, and that is no farther from there than ASIDE_SHARE of the path's length.
 * - The walk goes through any of those in any order: of all walks with the least largest step that with the least
 *   sum of squares, so that a shade that makes a step smaller is used. Steps between shades that are not told
 * apart are none. Of equals the one declared first.
 * - Pairs are those of the shades between and the two ends.
 * Deterministic; grows with the threads, and with the square of those that are compared: of more than LIMIT_SHADES
 * the arena's trap is sprung (BEYOND_SHADES). */
Shades *shades_make(Arena *arena, const ShadesTask *task);
/* Of two threads the same without the pairs. False, without the walk, where the ends and what lies between are
 * more than so many. */
bool shades_between(Arena *arena, const ShadesTask *task, uint32_t most, Shades *shades);
/* Whether a fade by heart between two of them shows no line. */
bool shades_melt(const Shades *shades, uint32_t first, uint32_t second);
/* The colour halfway on the path between the two ends, 0xRRGGBB. */
uint32_t shade_halfway(const Shades *shades);

/* Declared threads with a colour: behind one stand those that a rod changes, which nobody has on a spool yet. */
const Thread *const *threads_to_choose(Arena *arena, const Job *job, uint32_t *count, uint32_t *uncoloured);

#endif
