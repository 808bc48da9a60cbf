/* Threads of several colours. */
#ifndef TURNLAY_DRAW_CROSSWRAP_VARIEGATED_H
#define TURNLAY_DRAW_CROSSWRAP_VARIEGATED_H

#include "draw/canvas.h"

/* Finds out what is wound of every piece before each of its runs; or that there are too many changes of colour
 * to be shown. Sets the canvas's `wound` and `blended`. */
void colours_start(Canvas *canvas);
typedef struct RunPlace {
    const PlannedPlace *place;
    uint32_t layer;
    const Run *run;   /* what is drawn: the planned run, or a part of it */
    const Run *whole; /* the planned run, in the layer's runs */
} RunPlace;

/* Along the axis, signed: a turn's width, and how far on a turn lies when so much of it is wound: a thread that
 * is alone is shown as the helix that it is, its turns half a width off at the place's own angle. */
double turn_width(const Run *run);
double thread_slant(const Run *run, double part);
/* The colours but the first of a run's strand, on its first colour. outline: the run's; from, to: the part of
 * every turn's width that shows them. Nothing for a thread of one colour. */
void draw_run_colours(Canvas *canvas, const Below *below, const Outline *outline, const RunPlace *at,
                      uint32_t strand, double from, double to);

#endif
