/* The mean light of turns that are too narrow to be seen one by one, in cells a pixel wide along the rod. A viewer
 * that draws them itself mixes code values, not light, and comes out darker. */
#ifndef TURNLAY_DRAW_ROD_MEAN_H
#define TURNLAY_DRAW_ROD_MEAN_H

#include "draw/canvas.h"

/* Light that is shown, and how much of that below is hidden for it. */
typedef struct Veil {
    Light light;
    double hides;
} Veil;

typedef struct Cells {
    Arena *arena;
    double low, step; /* along the axis: where the first one begins, and how much of the rod each takes */
    uint32_t count;
    Light *parts;         /* of what shows, some for each cell */
    Veil *layer;          /* what the layer wound now adds to them */
    unsigned char *wound; /* of each cell: whether something was wound there since cells_clear */
} Cells;

/* For a part of the rod as it lies on the page, which is divided into pixels from its left edge on; black at
 * first. */
Cells cells_make(Arena *arena, const Frame *frame, double low, double high, double pixel);
/* What lies on the blank: all light between two places along the axis is of that colour. */
void cells_lay(Cells *cells, double low, double high, uint32_t colour);
/* A layer's runs over what lies there, by the share of each cell that they cover. A thread's light is mixed with
 * that below by its opacity. */
void cells_wind(Cells *cells, const PlannedLayer *layer);
void cells_clear(Cells *cells);
/* What shows at a place along the axis. */
Light cells_light(const Cells *cells, double x);
uint32_t cell_colour(const Cells *cells, uint32_t cell);
/* Whether some turn of a place is narrower than a pixel. */
bool turns_are_fine(const PlannedPlace *place, double scale, double pixel);
/* Whether some of its turns may show a crosswrap below them: a cell is the same all round. */
bool shows_crosswrap_below(const PlannedPlace *place);

#endif
