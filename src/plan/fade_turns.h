/* Fades by eye: which turns are the new thread's (trade/chosen_fade.h). Chosen once for all fades that are alike,
 * and for all plans of a job: what it learns at the bench changes no fade that keeps its turns. */
#ifndef TURNLAY_PLAN_FADE_TURNS_H
#define TURNLAY_PLAN_FADE_TURNS_H

#include "meaning/job.h"
#include "trade/colour.h"

/* What the choice depends on: nothing but what the file says. */
typedef struct FadeAsked {
    Light from, to;                    /* the two shades, on what lies below where the layer begins */
    double blur;                       /* turns, as the threads are declared, seen from the bench's `far` */
    uint32_t turns, by_hand, shortest; /* as FadeTask has them; by_hand is `turns` where that is no limit */
    bool even;                         /* by count it would be even, as `over` has it; else by steps */
} FadeAsked;

typedef struct ChosenTurns {
    FadeAsked asked;
    const CrossoverStep *runs; /* as `runs:` has them; `in 0` where it begins with the old thread, `out 0` where it
                                  ends with the new one */
    uint32_t run_count;
    uint32_t in;      /* turns of the new thread */
    double departure; /* the most by which a turn is off from an even ramp, a share of the path of colours */
    double bound;     /* no choice is off by less; departure itself where that is proven */
    double by_count;  /* departure of the same fade by count */
} ChosenTurns;

typedef struct ChosenFades ChosenFades;

ChosenFades *chosen_fades_start(Arena *arena);
/* Those of this number, from 1. Good until the next ones are chosen. */
const ChosenTurns *turns_chosen(const ChosenFades *chosen, uint32_t number);
/* Number of the turns chosen for what is asked: once for all that ask the same. Of LIMIT_CHOSEN_TURNS at most. */
uint32_t choose_fade_turns(ChosenFades *chosen, const FadeAsked *asked);
/* Whether it was beyond the limit of steps: what was asked since is laid by count. */
bool too_many_chosen(const ChosenFades *chosen);

/* In whole percents: how far off a fade is, rounded up; and where no choice is better, rounded down. */
const char *show_departure(Arena *arena, double share);
const char *show_bound(Arena *arena, double share);

#endif
