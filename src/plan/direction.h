/* Which way something is worked along the blank, or lies on it. */
#ifndef TURNLAY_PLAN_DIRECTION_H
#define TURNLAY_PLAN_DIRECTION_H

#include <stdbool.h>

/* Whether toward the tip: +1 is, -1 is toward the butt. There is no third. */
static inline bool toward_tip(int direction) { return direction > 0; }

#endif
