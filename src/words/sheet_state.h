/* What lies on the blank when a step of the sheet begins: for those who go on where they stopped. */
#ifndef TURNLAY_WORDS_SHEET_STATE_H
#define TURNLAY_WORDS_SHEET_STATE_H

#include "words/sheet.h"

typedef enum { ON_BLANK_NOT, ON_BLANK_RUNNING, ON_BLANK_STANDING, ON_BLANK_LAID_IN } OnBlank;

/* By piece of the rod, after its first `steps` steps. */
OnBlank *sheet_state(Arena *arena, const SheetRod *rod, uint32_t steps);
/* "running", "standing", "laid in". */
const char *on_blank_words(OnBlank state);

#endif
