/* The replay of guides: when their feet lie on the blank. */
#ifndef TURNLAY_BENCH_REPLAY_FEET_H
#define TURNLAY_BENCH_REPLAY_FEET_H

#include "bench/hands.h"

/* Whether turns or a leg may be laid in that layer, as far as feet are concerned: not beneath one that lies there
 * already, nor over one that is not there yet. */
bool feet_allow(Hands *hands, uint32_t place, uint32_t layer, uint32_t piece);
/* Whether so many turns more of the run stop before the tape on their foot. */
bool guide_tape_allows(Hands *hands, const Action *action, const Run *run);
/* TAPE_GUIDE, where no thread is in work, and TAKE_TAPE. */
bool tape_guide(Hands *hands, const Action *action);
bool take_guide_tape(Hands *hands, const Action *action);
/* After the last action: no tape is left on a foot that turns go over. */
bool feet_done(Hands *hands);

#endif
