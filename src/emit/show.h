/* What several pages show alike: the trade's words for what a plan holds, sums a reader would make by eye,
 * and texts made fit for the page they go to. */
#ifndef TURNLAY_EMIT_SHOW_H
#define TURNLAY_EMIT_SHOW_H

#include "plan/plan.h"

/* One character as a terminal may show it. */
typedef struct ShownCharacter {
    char text[8]; /* UTF-8, NUL-terminated */
    int columns;
} ShownCharacter;

/* Reads one character of the bytes (left >= 1) and returns how many bytes it took. A tab becomes four blanks;
 * control characters, invisible formatting characters and ill-formed UTF-8 become visible signs. */
uint32_t show_character(const char *bytes, size_t left, ShownCharacter *shown);
/* The whole text so, the text itself where nothing is to be done. */
const char *visible(Arena *arena, const char *text);
/* The text as well-formed UTF-8: each byte that fits nowhere becomes U+FFFD. */
const char *well_formed(Arena *arena, const char *text);

/* "band", "inlay", "fade in", "fade out", "gap". */
const char *role_word(RunRole role);
/* "butt" or "tip": where the place is worked toward. */
const char *toward_word(int direction);
/* "under" or "over". */
const char *layer_word(const Layer *layer);
/* "navy + spacer slate"; nothing for a gap (NULL). */
void put_strands(Buffer *buffer, const Strands *strands);
/* "32 cm from the butt, toward the tip". */
const char *place_of_need(Arena *arena, const Plan *plan, const Need *need);

/* Whether one of the rods has a crosswrap. */
bool any_crosswrap(const Plan *plan);
/* mm from where the place begins, counted in working direction, of x mm from the butt. */
double from_datum(const PlannedPlace *place, double x);
/* Obtained less asked width in mm, NAN where no width was asked for. */
double width_error(const PlannedItem *item);
double run_width(const Run *run);
double piece_length(const Piece *piece);
double need_length(const Need *need);

/* Ends of numbers for programs: lengths in mm to 6 decimals without trailing zeros. False, and nothing
 * written, where there is no number. */
enum { PROGRAM_DECIMALS = 6 };
bool put_program_number(Buffer *buffer, double value);

#endif
