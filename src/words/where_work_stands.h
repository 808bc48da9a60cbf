/* For those who go on where they stopped: what is made, and which threads are in work on the blank. */
#ifndef TURNLAY_WORDS_WHERE_WORK_STANDS_H
#define TURNLAY_WORDS_WHERE_WORK_STANDS_H

#include "words/sheet.h"

/* After the rod's first so many steps, at least one, when more follow: "When step 12 begins, ...". */
const char *where_work_stands(Arena *arena, const Sheet *sheet, const SheetRod *rod, uint32_t skipped_steps);

#endif
