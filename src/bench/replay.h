/* Inside the bench room: the replay, step by step. */
#ifndef TURNLAY_BENCH_REPLAY_H
#define TURNLAY_BENCH_REPLAY_H

#include "bench/hands.h"

/* One step more, after hands_start; leaves with it what it found. Once a step is not lawful no other is looked at.
 */
void replay_step(Hands *hands, Step *step);
/* After the last step: what is left to be done is a fault too. The verdict is in hands->found. */
void replay_end(Hands *hands);

#endif
