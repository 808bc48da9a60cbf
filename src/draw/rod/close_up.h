/* Close-ups: which wraps of a row look alike and share one, how large it is, and what is said of it. */
#ifndef TURNLAY_DRAW_ROD_CLOSE_UP_H
#define TURNLAY_DRAW_ROD_CLOSE_UP_H

#include "draw/rod/rows.h"

typedef struct CloseUp {
    const PlaceView *view;           /* the one that is shown */
    LIST_OF(const PlaceView *) like; /* all that it stands for, the shown one first */
    uint32_t row;
    double low, high;     /* along the axis: what of the rod it shows */
    double facing;        /* clock angle that faces the viewer, turns */
    double scale;         /* page mm a mm of the rod */
    double up, down;      /* page mm that it takes above and below the axis */
    double rise;          /* how much of that in the middle of the wrap */
    const char *words[3]; /* below it; NULL for none */
    double width;         /* of picture and words, page mm */
    double x;             /* page x of its middle */
    uint32_t shelf;       /* of those below its row */
    uint64_t kind;        /* a hash of what makes it look as it does, but for numbers of turns */
} CloseUp;

typedef struct CloseUps {
    LIST_OF(CloseUp) list;
    uint32_t left_out; /* wraps that none shows, since there are too many */
} CloseUps;

/* Between two that stand side by side, page mm at true scale. */
#define CLOSE_UPS_APART 6.0

/* In the order of rows, and within one from butt to tip. */
CloseUps close_ups_make(RodPage *page, const RodRows *rows);
/* Whether two wraps look alike: the same guide, layers, threads and, give or take, turns, as they are worked. */
bool look_alike(const PlaceView *one, const PlaceView *other);
/* How large letters of the words stand: the first line, and the others. */
double words_size(const RodPage *page, uint32_t line);

#endif
