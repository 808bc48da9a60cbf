/* Inside the bench room: the replay, action by action. */
#ifndef TURNLAY_BENCH_REPLAY_H
#define TURNLAY_BENCH_REPLAY_H

#include "bench/hands.h"

/* One action more, after hands_start; leaves with it what it found. Once an action is not lawful no other is
 * looked at.
 */
void replay_action(Hands *hands, Action *action);
/* After the last action: what is left to be done is a fault too. The verdict is in hands->found. */
void replay_end(Hands *hands);

#endif
