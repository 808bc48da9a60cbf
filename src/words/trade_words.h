/* The trade's words for what a plan holds, as every page says them. */
#ifndef TURNLAY_WORDS_TRADE_WORDS_H
#define TURNLAY_WORDS_TRADE_WORDS_H

#include "plan/plan.h"

/* "band", "inlay", "fade in", "fade out", "gap". */
const char *role_word(RunRole role);
/* "butt" or "tip": where the place is worked toward. */
const char *toward_word(int direction);
/* "turn" or "turns". */
const char *turns_word(uint64_t turns);
/* "under" or "over". */
const char *layer_word(const Layer *layer);
/* What is printed on all that goes to the bench, one by one from 0: blade, epoxy, spindle, loads; NULL after the
 * last. */
const char *caution(uint32_t number);
/* "navy + spacer slate"; nothing for a gap (NULL). */
void put_strands(Buffer *buffer, const Strands *strands);
/* "32 cm from the butt, toward the tip". */
const char *place_of_need(Arena *arena, const Plan *plan, const Need *need);

/* Of a part: "0 to 24 cm; diameter 26.00 mm; keep it free of thread". `butt`: from where it is measured, from the
 * rod's butt. */
const char *part_words(Arena *arena, UnitSystem units, const Part *part, double butt);

#endif
