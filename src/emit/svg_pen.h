/* Writes the parts of an SVG picture: words, numbers and path data. Bytes go straight to where they stay: room is
 * taken for a whole element (svg_room), and nothing is asked for within it. */
#ifndef TURNLAY_EMIT_SVG_PEN_H
#define TURNLAY_EMIT_SVG_PEN_H

#include "base/buffer.h"
#include "draw/drawing.h"

#include <string.h>

typedef struct SvgPen {
    Buffer *out;
    char *at; /* where the next byte goes */
} SvgPen;

/* Positions are written in whole steps of 0.001 mm, a tenth of the finest printer's dots, so that what lies
 * between points adds up to the points. */
#define SVG_STEPS_PER_MM 1e3
/* Most bytes of a number, with what parts it from the one before. */
enum { SVG_NUMBER_ROOM = 24 };

/* Room for so many bytes from pen->at on. */
void svg_room(SvgPen *pen, size_t bytes);
/* What has been written belongs to the buffer from now on. */
void svg_end(SvgPen *pen);

static inline void svg_bytes(SvgPen *pen, const char *bytes, size_t length)
{
    memcpy(pen->at, bytes, length);
    pen->at += length;
}
/* Words that stand in the source. */
#define SVG_PUT(pen, words) svg_bytes(pen, words, sizeof words - 1)

/* ` name="12.5"`, mm; room is taken. The name comes with all that stands before the number. */
#define SVG_NUMBER(pen, name, mm) (SVG_PUT(pen, " " name "=\""), svg_number(pen, mm), SVG_PUT(pen, "\""))
/* A length in the shortest form: without zeros before the point or at the end. */
void svg_number(SvgPen *pen, double mm);
/* `#rrggbb`, or `none`; room is taken. */
void svg_colour(SvgPen *pen, uint32_t colour);
/* Text as it stands between tags, or within double quotes. Takes its own room. */
void svg_text(SvgPen *pen, const char *text, bool attribute);
/* ` d="..."` of a polygon or line. Takes its own room. */
void svg_path(SvgPen *pen, const Shape *shape);

#endif
