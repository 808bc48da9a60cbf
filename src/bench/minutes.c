/* How long the steps take at the bench. */
#include "bench/steps.h"

static const uint8_t handled[STEP_KIND_COUNT] = {
#define X(name, pause, times) [STEP_##name] = times,
    STEP_TABLE(X)
#undef X
};

static double turns_of(const Step *step)
{
    const double whole = 360; /* degrees */
    return step->kind == STEP_WIND  ? step->turns
           : step->kind == STEP_LEG ? step->leg.turns + step->leg.dwell / whole
                                    : 0;
}

void add_times(StepTimes *times, const Step *step)
{
    times->turns += turns_of(step);
    times->handled += handled[step->kind];
}

double minutes_of(StepTimes times, const Bench *bench)
{
    const double seconds = 60; /* in a minute */
    return times.turns / bench->speed + times.handled * bench->handling / seconds;
}
