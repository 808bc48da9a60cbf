/* Rods of several sections: their blanks put together into one. */
#ifndef TURNLAY_MEANING_SECTIONS_H
#define TURNLAY_MEANING_SECTIONS_H

#include "base/arena.h"
#include "meaning/job.h"

/* How a section fits the one before it: name, word. OVER: it goes over that one, and what shows of the joint is
 * its own; INTO: it goes into that one, whose surface the joint shows. */
#define FIT_TABLE(X) X(OVER, "over") X(INTO, "into")

typedef enum {
#define X(name, word) FIT_##name,
    FIT_TABLE(X)
#undef X
} Fit;

/* From its first station to its last: what is known of it. mm. */
double own_length(const Blank *blank);
/* Puts the sections (two or more, with their blanks) where they lie on the rod, and gives all as one blank with a
 * step at each joint. overlaps: mm, one a joint, each less than either of its sections is long. */
Blank *join_sections(Arena *arena, Section *sections, uint32_t count, const double *overlaps, Fit fit);

#endif
