/* A crosswrap's bundle at every turn of a picture. Strips of it that nothing cuts are drawn from there, without
 * looking anew for where each of their edges lies. */
#ifndef TURNLAY_DRAW_CROSSWRAP_LADDER_H
#define TURNLAY_DRAW_CROSSWRAP_LADDER_H

#include "draw/crosswrap/ground.h"

/* Where lines of one leg of one start come by at one turn, along the axis: the lowest of them at `low`, one that
 * lies a mm across from it at low + a (across + a bend). */
typedef struct Rung {
    double low, across, bend;
} Rung;

/* A turn of the picture: where the lines come into view, and where they go. */
typedef struct LadderTurn {
    Rung enters, leaves;
    const Cone *cone; /* of the surface all the way; NULL where it is not one, or the edges are no single curves */
} LadderTurn;

typedef struct Ladder {
    double first;  /* the whole turn that the first is of */
    double bottom; /* of the lowest line, across */
    LadderTurn *turns;
    uint32_t count;
} Ladder;

/* Lines of one leg of one start, from one across to another. */
typedef struct LegLines {
    const PlannedCrosswrap *planned;
    uint32_t start;
    Leg leg;
    double bottom, top;
} LegLines;

/* Whole turns whose windows show something of what comes by from one turn to another. */
typedef struct TurnRange {
    double first, last;
} TurnRange;
TurnRange turns_shown(const Frame *frame, double enters, double leaves);

/* For those lines between two places along the axis. */
void ladder_start(Ladder *ladder, Arena *arena, const Ground *ground, const LegLines *lines, double low,
                  double high);
/* The strip between two of the lines over the whole of a turn, which nothing cuts there. False, and nothing drawn,
 * where the surface is not one cone. */
bool ladder_put(Area *area, const Ground *ground, const Ladder *ladder, double bottom, double top, double turn);

#endif
