/* Words and numbers that find room beside one another. */
#ifndef TURNLAY_DRAW_SPREAD_H
#define TURNLAY_DRAW_SPREAD_H

#include "base/arena.h"

/* A label's place, and where there is room for it beside its neighbours. */
typedef struct SpreadLabel {
    double at, shown;
} SpreadLabel;

/* Spreads labels in rising order so that no two are closer than `apart` and all lie from low to high, each as near
 * to its place as can be (least squares). They must have room: (count - 1) * apart <= high - low. */
void spread_labels(Arena *arena, SpreadLabel *labels, uint32_t count, double apart, double low, double high);

#endif
