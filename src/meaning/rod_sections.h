/* Inside the meaning room: the blank or blanks that a rod is made on. */
#ifndef TURNLAY_MEANING_ROD_SECTIONS_H
#define TURNLAY_MEANING_ROD_SECTIONS_H

#include "meaning/evaluate.h"

/* The rod's blank and sections, after its node; or why there are none. */
void take_sections(Evaluator *evaluator, const Node *node, Rod *rod);

#endif
