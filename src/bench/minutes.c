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

double minutes_of_steps(const BenchRod *rod, const Bench *bench)
{
    const double seconds = 60; /* in a minute */
    double turns = 0, times = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        turns += turns_of(&rod->steps[i]);
        times += handled[rod->steps[i].kind];
    }
    return turns / bench->speed + times * bench->handling / seconds;
}
