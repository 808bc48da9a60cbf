/* Where to stop for the night, and what to tape, in words. */
#ifndef TURNLAY_WORDS_NIGHT_WORDS_H
#define TURNLAY_WORDS_NIGHT_WORDS_H

#include "bench/night.h"
#include "words/sheet.h"

/* Before the rod's step of that index, and within it: "To stop for the night before step 14: tape slate 1 down,
 * ease its tension; navy 2 stays taped. Within step 14: ..." Of night_of_steps its row. */
const char *night_words(Arena *arena, const SheetRod *rod, uint32_t index, const StepNight *night);

/* Tape holds it, or its bobbin; none of a pass, which all lie so. */
bool is_taped_down(const SheetRod *rod, const Held *held);
/* "the tag of mist 1", "mist 1" for its line, "the bobbin of mist 1" */
void put_held_thing(Buffer *words, const SheetRod *rod, const Held *held);

#endif
