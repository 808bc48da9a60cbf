/* Two hands: what holds what, what an action needs, and tape. */
#ifndef TURNLAY_BENCH_HOLDING_H
#define TURNLAY_BENCH_HOLDING_H

#include "bench/hands.h"

enum { MOST_HANDS = 2 }; /* a builder works alone: common practice, no source */

/* Hands that an action takes itself, from 1 to 2. */
uint32_t hands_of(const Hands *hands, const Action *action);
/* Hands that must go on holding something while it is done: what it does not handle. NULL: after it. */
uint32_t hands_held(Hands *hands, const Action *action);

/* A piece is there, with its tag under the next turns; its line is there too. */
void lay_piece(Hands *hands, uint32_t piece, bool own_tag);
/* Its line is gone, and its bobbin empty: false, with a fault, where tape is on that. */
bool cut_line(Hands *hands, uint32_t piece);
/* Nothing of these things of it is taped; else a fault. */
bool tape_is_off(Hands *hands, uint32_t piece, unsigned things);

/* With a spacer its tape goes. */
void take_all_tape(Hands *hands, uint32_t piece);

/* Rules about pieces, for the table in replay.c. */
bool tape_down(Hands *hands, const Action *action, uint32_t piece);
/* Its line, taped or loose, is a cut piece's from now on. */
bool cut_from_spool(Hands *hands, const Action *action, uint32_t piece);
bool untape(Hands *hands, const Action *action, uint32_t piece);
/* Its bobbin, one of the bench's, holds all of it from now on. */
bool load(Hands *hands, const Action *action, uint32_t piece);

/* Turns may be made, as far as tape and lines that swing are concerned. */
bool tape_allows(Hands *hands, const Action *action);

/* A piece is in work from now on; it is finished. Neither is for pieces of passes. */
void piece_lives(Hands *hands, uint32_t piece);
void piece_is_done(Hands *hands, uint32_t piece);
/* Sets what Action.state says of hands, holders and stopping. */
void note_holding(Hands *hands, const Action *action, ActionState *state);

#endif
