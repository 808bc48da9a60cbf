/* Rods of several sections: their blanks put together into one. */
#ifndef TURNLAY_MEANING_SECTIONS_H
#define TURNLAY_MEANING_SECTIONS_H

#include "base/arena.h"
#include "meaning/job.h"

/* From its first station to its last: what is known of it. mm. */
double own_length(const Blank *blank);
/* Puts the sections (two or more, with their blanks) where they lie on the rod, and gives all as one blank with a
 * step at each joint. overlaps: mm, one a joint, each less than either of its sections is long. tip_inside: the
 * section toward the tip goes into the one before it, and else over that; a joint shows the outer one. */
Blank *join_sections(Arena *arena, Section *sections, uint32_t count, const double *overlaps, bool tip_inside);

#endif
