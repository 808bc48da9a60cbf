#include "draw/shading.h"

const ShadeStop shade_stops[] = {
    {0, 0x000000, .34},   {.06, 0x000000, .2},  {.17, 0x000000, 0},   {.17, 0xffffff, 0},   {.21, 0xffffff, .07},
    {.25, 0xffffff, .18}, {.28, 0xffffff, .2},  {.31, 0xffffff, .16}, {.36, 0xffffff, .05}, {.42, 0xffffff, 0},
    {.52, 0x000000, 0},   {.75, 0x000000, .17}, {.92, 0x000000, .4},  {1, 0x000000, .52},
};
_Static_assert(sizeof shade_stops / sizeof *shade_stops == SHADE_STOPS, "as many stops as are counted");
