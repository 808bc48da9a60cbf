/* The page of the eye's view: where its strips lie, and from how far each is seen. */
#ifndef TURNLAY_DRAW_EYE_EYE_PAGE_H
#define TURNLAY_DRAW_EYE_EYE_PAGE_H

#include "draw/canvas.h"
#include "plan/evenness.h"

/* A fade, as it is seen from far. */
typedef struct FadeSeen {
    FadeAt at; /* without a place: none */
    FadeCourse course;
    FadeLook jump; /* of fade_jump */
    FadeShades shades;
} FadeSeen;

typedef struct EyePage {
    Canvas *canvas;
    double left, room;   /* page x of the strips, and how long they may be */
    double blur[3];      /* sharp, from near, from far; mm of the rod */
    const char *from[3]; /* what is said of each beside it: two lines */
    const char *away[3];
    double looks;           /* that a mm of a crosswrap may take in each strip */
    Vision vision;          /* whose eyes curves and their numbers are of; all else is drawn as with all cones */
    uint32_t curves, ticks; /* that were drawn so far; of these the ends of fades */
    FadeSeen seen;          /* the fade that was looked at last */
} EyePage;

#endif
