/* How long the actions take at the bench. */
#include "bench/making.h"

static double turns_of(const Action *action)
{
    const double whole = 360; /* degrees */
    return action->kind == ACTION_WIND  ? action->turns
           : action->kind == ACTION_LEG ? action->leg.turns + action->leg.dwell / whole
                                        : 0;
}

void add_times(ActionTimes *times, const Action *action)
{
    times->turns += turns_of(action);
    times->handled += action_needs[action->kind].handled;
}

double minutes_of(ActionTimes times, const Bench *bench)
{
    const double seconds = 60; /* in a minute */
    return times.turns / bench->speed + times.handled * bench->handling / seconds;
}

double minutes_of_way(const BenchPlan *bench, const Ways *ways, Preference prefer)
{
    const Bench *habits = &bench->plan->job->bench;
    double more = (double)ways->by[prefer].handled - (double)ways->by[habits->prefer].handled;
    return bench->minutes + minutes_of((ActionTimes){.handled = more}, habits);
}
