/* Chosen turns of fades: against every sequence of turns there is, up to 20 turns, and every one of few changes of
 * 30; limits, bounds, and how much is gained. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdlib.h>
#include <string.h>

#include "near.h"

#include "trade/chosen_fade.h"
#include "trade/eye.h"
#include "trade/fade_windows.h"

/* Turns of a band beside a fade that are reckoned here, of those that have no end. */
enum { BAND = 200, MOST_TURNS = 64 };

static uint32_t random_colour(uint64_t *random) { return (uint32_t)between(random, 0, 0x1000000); }

/* A path between two random shades of a CIEDE2000 difference between 8 and 40. */
static MixPath random_path(uint64_t *random)
{
    for (;;) {
        uint32_t from = random_colour(random), to = random_colour(random);
        double difference = difference_seen(VISION_ALL_CONES, from, to);
        if (difference >= 8 && difference <= 40)
            return mix_path(light_of(from), light_of(to));
    }
}

static void random_turns(uint64_t *random, unsigned char *is_new, uint32_t turns)
{
    for (uint32_t i = 0; i < turns; i++)
        is_new[i] = between(random, 0, 1) < 0.5;
}

/* By its definition, each turn's light on its own: shares[i][j] of what is seen at turn i comes from turn j; the
 * last one is that of the band behind. */
typedef struct Shares {
    double of[MOST_TURNS][MOST_TURNS + 1];
} Shares;

static Shares all_shares(uint32_t turns, double blur)
{
    Shares shares = {0};
    for (uint32_t i = 0; i < turns; i++) {
        for (uint32_t j = 0; j < turns; j++)
            shares.of[i][j] = eye_share(blur, i + 0.5, j, j + 1);
        shares.of[i][turns] = eye_share(blur, i + 0.5, turns, turns + BAND * (blur + 1));
    }
    return shares;
}

static double off_at(const MixPath *path, double share, uint32_t i, uint32_t turns)
{
    return fabs(mix_position(path, share) - (i + 0.5) / turns);
}

static double departure_by_sums(const Shares *shares, const MixPath *path, const unsigned char *is_new,
                                uint32_t turns)
{
    double most = 0;
    for (uint32_t i = 0; i < turns; i++) {
        double share = shares->of[i][turns];
        for (uint32_t j = 0; j < turns; j++)
            share += is_new[j] * shares->of[i][j];
        most = fmax(most, off_at(path, share, i, turns));
    }
    return most;
}

static void test_departure_by_its_definition(void **state)
{
    (void)state;
    uint64_t random = 11;
    for (int i = 0; i < 200; i++) {
        MixPath path = random_path(&random);
        uint32_t turns = (uint32_t)between(&random, 1, MOST_TURNS);
        double blur = i % 4 ? between(&random, 0.05, 5) : between(&random, 0, 60);
        unsigned char is_new[MOST_TURNS];
        random_turns(&random, is_new, turns);
        Shares shares = all_shares(turns, blur);
        assert_within(fade_departure(&path, is_new, turns, blur), departure_by_sums(&shares, &path, is_new, turns),
                      1e-8);
    }
}

/* Without any blur a turn is seen as it is: the turn on whose place its shade lies least. */
static void test_departure_without_blur(void **state)
{
    (void)state;
    MixPath path = mix_path(light_of(0x203050), light_of(0xd0c0a0));
    assert_within(fade_departure(&path, (unsigned char[]){0, 0, 1, 1}, 4, 0), 0.375, 1e-12);
    assert_within(fade_departure(&path, (unsigned char[]){0, 1, 0, 1}, 4, 0), 0.625, 1e-12);
    assert_within(fade_departure(&path, (unsigned char[]){1}, 1, 0), 0.5, 1e-12);
}

static void test_changes_from_band_to_band(void **state)
{
    (void)state;
    assert_int_equal(fade_changes((unsigned char[]){0, 0, 0}, 3), 1);
    assert_int_equal(fade_changes((unsigned char[]){1, 1, 1}, 3), 1);
    assert_int_equal(fade_changes((unsigned char[]){0, 1, 1}, 3), 1);
    assert_int_equal(fade_changes((unsigned char[]){1, 0, 1}, 3), 3);
    assert_int_equal(fade_changes((unsigned char[]){0, 1, 0}, 3), 3);
    assert_int_equal(fade_changes((unsigned char[]){1, 0, 0}, 3), 3);
    assert_int_equal(fade_changes((unsigned char[]){1, 0, 1, 0}, 4), 5);
}

static void test_fade_by_steps(void **state)
{
    (void)state;
    static const struct {
        uint32_t turns, steps;
    } rows[] = {{1, 1}, {2, 1}, {5, 1}, {6, 2}, {11, 2}, {12, 3}, {19, 3}, {20, 4}, {41, 5}, {42, 6}, {500, 21}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(steps_within(rows[i].turns), rows[i].steps);
    unsigned char is_new[MOST_CHOSEN_TURNS];
    fade_by_steps(is_new, 12);
    assert_memory_equal(is_new, ((unsigned char[]){1, 0, 0, 0, 1, 1, 0, 0, 1, 1, 1, 0}), 12);
    fade_by_steps(is_new, 9); /* in 1 out 2, in 2 out 1, by one and a half: 1.5, 4.5, 7.5 and 9 turns */
    assert_memory_equal(is_new, ((unsigned char[]){1, 1, 0, 0, 0, 1, 1, 1, 0}), 9);
    for (uint32_t turns = 1; turns <= MOST_CHOSEN_TURNS; turns++) {
        memset(is_new, 2, sizeof is_new);
        fade_by_steps(is_new, turns);
        for (uint32_t j = 0; j < turns; j++)
            assert_in_range(is_new[j], 0, 1);
        assert_in_range(fade_changes(is_new, turns), 1, 2 * steps_within(turns) + 1);
        assert_true(turns == MOST_CHOSEN_TURNS || is_new[turns] == 2);
    }
}

/* After turn k of N the new thread has made k k / 2 N of them, halves up. */
static void test_fade_evenly(void **state)
{
    (void)state;
    unsigned char is_new[MOST_CHOSEN_TURNS] = {0};
    fade_evenly(is_new, 12); /* 0 0 0 0.7 1 1.5 2.04 2.7 3.4 4.2 5.04 6 */
    assert_memory_equal(is_new, ((unsigned char[]){0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 1, 1}), 12);
    for (uint32_t turns = 2; turns <= MOST_CHOSEN_TURNS; turns++) {
        memset(is_new, 2, sizeof is_new);
        fade_evenly(is_new, turns);
        uint32_t made = 0;
        for (uint32_t j = 0; j < turns; j++) {
            assert_in_range(is_new[j], 0, 1);
            made += is_new[j];
            assert_true(fabs(made - (j + 1.0) * (j + 1) / 2 / turns) <= 0.5);
        }
        assert_true(turns == MOST_CHOSEN_TURNS || is_new[turns] == 2);
    }
}

/* Runs are those between two changes. */
static void test_limits_of_a_task(void **state)
{
    (void)state;
    FadeTask free = {.turns = 8, .most_changes = 9, .most_by_hand = 8, .shortest = 1}, long_runs = free,
             hand = free, few = free, none = free;
    long_runs.shortest = 3;
    hand.most_by_hand = 2;
    few.most_changes = 3;
    none.most_changes = 0;
    unsigned char inner[] = {0, 1, 1, 1, 0, 0, 0, 1}, short_new[] = {0, 1, 1, 0, 0, 0, 1, 1},
                  begins_new[] = {1, 1, 0, 0, 0, 1, 1, 1}, ends_old[] = {0, 0, 0, 1, 1, 1, 0, 0},
                  one_change[] = {0, 0, 0, 0, 0, 0, 1, 1}, even[] = {0, 0, 0, 0, 0, 1, 1, 1};
    assert_true(within_limits(&free, inner) && within_limits(&long_runs, inner) && within_limits(&few, inner));
    assert_true(!within_limits(&hand, inner) && !within_limits(&none, inner));
    assert_true(within_limits(&free, short_new) && !within_limits(&long_runs, short_new));
    assert_false(within_limits(&long_runs, begins_new)); /* the band before is of the old shade */
    assert_false(within_limits(&long_runs, ends_old));   /* that behind of the new one */
    assert_true(within_limits(&long_runs, one_change) && within_limits(&none, one_change));
    assert_true(within_limits(&hand, one_change) && !within_limits(&hand, even));
    for (int i = 0; i < 8; i++)
        one_change[i] ^= 1; /* 6 new ones before 2 old ones: as few are made by hand */
    hand.most_changes = 3;
    assert_true(within_limits(&hand, one_change));
}

/* The same by counting, on its own: first and last run go on the bands if they are of their shades. */
static bool allowed(const FadeTask *task, uint32_t bits)
{
    uint32_t runs[MOST_TURNS + 2] = {1000}, count = 1, shade = 0,
                               of_new = 0; /* the band before, of the old shade */
    for (uint32_t i = 0; i < task->turns; i++) {
        uint32_t here = bits >> i & 1;
        of_new += here;
        if (here == shade)
            runs[count - 1]++;
        else
            runs[count++] = 1;
        shade = here;
    }
    if (shade)
        runs[count - 1] += 1000;
    else
        runs[count++] = 1000;
    uint32_t fewer = of_new < task->turns - of_new ? of_new : task->turns - of_new,
             hand = task->most_by_hand ? task->most_by_hand : 1;
    bool well =
        (count == 2 || count - 1 <= task->most_changes) && fewer <= hand && (fewer > 0 || task->turns == 1);
    for (uint32_t i = 0; i < count; i++)
        well = well && runs[i] >= task->shortest;
    return well;
}

/* The least departure of all sequences of turns, one turn changed from each to the next (a Gray code). */
static double least_of_all(const FadeTask *task)
{
    uint32_t turns = task->turns, bits = 0, first = 0; /* looked at first: the turn that was too far off before */
    Shares shares = all_shares(turns, task->blur);
    double share[MOST_TURNS], least = INFINITY;
    for (uint32_t i = 0; i < turns; i++)
        share[i] = shares.of[i][turns];
    for (uint32_t number = 0;;) {
        double most = allowed(task, bits) ? 0 : INFINITY;
        for (uint32_t k = 0; k < turns && most < least; k++) {
            uint32_t i = (first + k) % turns;
            most = fmax(most, off_at(task->path, share[i], i, turns));
            first = most < least ? first : i;
        }
        least = fmin(least, most);
        if (++number >> turns)
            return least;
        uint32_t changed = (uint32_t)__builtin_ctz(number), sign = bits >> changed & 1;
        bits ^= 1u << changed;
        for (uint32_t i = 0; i < turns; i++)
            share[i] += (sign ? -1 : 1) * shares.of[i][changed];
    }
}

static void assert_kept_and_told(const FadeTask *task, const FadeChoice *choice, const unsigned char *is_new)
{
    assert_true(within_limits(task, is_new));
    assert_within(choice->departure, fade_departure(task->path, is_new, task->turns, task->blur), 1e-12);
    assert_true(choice->bound <= choice->departure);
    assert_true(choice->nodes <= task->nodes);
}

/* What is found departs as little as anything can; and where nodes ran out before, the bound is none the less
 * true. */
static void assert_as_all(const FadeTask *task)
{
    unsigned char is_new[MOST_TURNS];
    double least = least_of_all(task);
    FadeChoice choice = choose_fade(task, is_new);
    assert_kept_and_told(task, &choice, is_new);
    assert_within(choice.departure, least, SAME_DEPARTURE + 1e-8);
    assert_within(choice.bound, choice.departure, 0);
    for (uint64_t nodes = 0; nodes <= choice.nodes; nodes += 1 + choice.nodes / 7) {
        FadeTask cut_short = *task;
        cut_short.nodes = nodes;
        FadeChoice first = choose_fade(&cut_short, is_new);
        assert_kept_and_told(&cut_short, &first, is_new);
        assert_true(first.bound <= least + 1e-8 + SAME_DEPARTURE);
        assert_true(first.departure >= least - 1e-8);
    }
}

static FadeTask random_task(uint64_t *random, const MixPath *path, uint32_t turns)
{
    uint32_t kind = (uint32_t)between(random, 0, 4);
    return (FadeTask){.path = path,
                      .turns = turns,
                      .blur = between(random, 0.2, 4),
                      .most_changes = kind == 1 ? (uint32_t)between(random, 0, 12) : 2 * steps_within(turns) + 1,
                      .most_by_hand = kind == 2 ? (uint32_t)between(random, 0, turns / 2.0 + 1) : UINT32_MAX,
                      .shortest = kind == 3 ? (uint32_t)between(random, 0, 5) : 1,
                      .nodes = 10000000};
}

static void test_as_all_sequences_of_few_turns(void **state)
{
    (void)state;
    uint64_t random = 5;
    for (uint32_t turns = 1; turns <= 16; turns++) {
        for (int i = 0; i < (turns < 13 ? 24 : 8); i++) {
            MixPath path = random_path(&random);
            FadeTask task = random_task(&random, &path, turns);
            assert_as_all(&task);
        }
    }
}

static void test_as_all_sequences_of_20_turns(void **state)
{
    (void)state;
    uint64_t random = 21;
    for (int blur = 1; blur <= 3; blur++) {
        MixPath path = random_path(&random);
        FadeTask task = {&path, 20, blur, 9, UINT32_MAX, 1, 10000000};
        assert_as_all(&task);
    }
}

/* Every choice of the places where the thread changes; one is given up only where a turn that no later change is
 * seen from departs by `limit` or more. Whether any fade departs by less. */
typedef struct Places {
    const FadeTask *task;
    double behind[MOST_TURNS][MOST_TURNS + 1]; /* of what is seen at a turn: from behind a boundary */
    double limit;
    uint32_t reach;
} Places;

static bool some_departs_less(Places *places, const double *share_before, uint32_t from, uint32_t left)
{
    uint32_t turns = places->task->turns;
    double share[MOST_TURNS];
    for (uint32_t at = from; at <= turns; at++) {
        double most = 0; /* of the turns that are decided: with the last change all of them */
        for (uint32_t i = 0; i < turns; i++) {
            share[i] = share_before[i] + (left % 2 ? 1 : -1) * places->behind[i][at];
            if (left == 1 || i + places->reach <= at)
                most = fmax(most, off_at(places->task->path, share[i], i, turns));
        }
        if (most < places->limit && (left == 1 || some_departs_less(places, share, at + 1, left - 1)))
            return true;
    }
    return false;
}

/* left counts down to the last change, into the new shade, so that all odd numbers of changes are gone through. */
static bool any_departs_less(const FadeTask *task, double limit)
{
    Places places = {.task = task, .limit = limit, .reach = (uint32_t)ceil(7 * task->blur) + 1};
    for (uint32_t i = 0; i < task->turns; i++)
        for (uint32_t at = 0; at <= task->turns; at++)
            places.behind[i][at] = eye_share(task->blur, i + 0.5, at, at + BAND * (task->blur + 1));
    bool found = false;
    for (uint32_t changes = 1; changes <= task->most_changes && !found; changes += 2)
        found = some_departs_less(&places, (double[MOST_TURNS]){0}, 0, changes);
    return found;
}

static void test_as_all_changes_of_30_turns(void **state)
{
    (void)state;
    uint64_t random = 33;
    static const double blurs[] = {0.7, 1, 1.5, 1.8};
    for (size_t i = 0; i < sizeof blurs / sizeof *blurs; i++) {
        MixPath path = random_path(&random);
        FadeTask task = {&path, 30, blurs[i], 11, UINT32_MAX, 1, 10000000};
        unsigned char is_new[MOST_TURNS];
        FadeChoice choice = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &choice, is_new);
        assert_within(choice.bound, choice.departure, 0);
        assert_true(any_departs_less(&task, choice.departure + 1e-7));
        assert_false(any_departs_less(&task, choice.departure - SAME_DEPARTURE - 1e-7));
    }
}

/* Changes behind so many turns, to the band behind. */
static uint32_t changes_behind(const unsigned char *is_new, uint32_t turns, uint32_t laid)
{
    return fade_changes(is_new, turns) - (fade_changes(is_new, laid) - !(laid && is_new[laid - 1]));
}

/* Asked for just the shares that a fade has, no window may want more changes than that fade makes; and without
 * blur, where a turn's share says which shade it is, all that it makes, or no way where its runs are too short. */
static void test_windows_want_no_more_than_there_is(void **state)
{
    (void)state;
    uint64_t random = 8;
    FadeWindows *windows = malloc(sizeof *windows);
    for (int i = 0; i < 3000; i++) {
        uint32_t turns = (uint32_t)between(&random, 1, 41),
                 shortest = i % 3 ? 1 : (uint32_t)between(&random, 2, 16);
        FadeTask task = {.turns = turns, .most_changes = 100, .most_by_hand = turns, .shortest = shortest};
        unsigned char is_new[MOST_TURNS];
        for (uint32_t from = 0, shade = between(&random, 0, 1) < 0.5; from < turns; shade ^= 1) {
            uint32_t run = (uint32_t)between(&random, 1, shortest + 4);
            for (uint32_t k = 0; k < run && from < turns; k++)
                is_new[from++] = (unsigned char)shade;
        }
        FadeSight sight = fade_sight(turns, i % 2 ? between(&random, 0.3, 6) : 0);
        ShareLimits limits;
        for (int turn = 1; turn <= (int)turns; turn++) {
            double share = share_of_new(&sight, is_new, turn);
            limits.low[turn] = share - 1e-9;
            limits.high[turn] = share + 1e-9;
        }
        see_windows(windows, &sight);
        count_changes(windows, &sight, &limits, shortest);
        bool lawful = within_limits(&task, is_new);
        unsigned window = 0, runs_told = shortest < WINDOW;
        for (uint32_t laid = 0; lawful && laid <= turns; laid++) {
            uint32_t wanted = windows->changes[laid][window], made = changes_behind(is_new, turns, laid);
            assert_true(i % 2 ? wanted <= made : wanted == made);
            window = (window << 1 | (laid < turns && is_new[laid])) & (WINDOW_STATES - 1);
        }
        bool both = memchr(is_new, 0, turns) && memchr(is_new, 1, turns);
        if (!lawful && both && i % 2 == 0 && runs_told)
            assert_int_equal(windows->changes[0][0], NO_WAY);
    }
    free(windows);
}

/* What is asked for by a fade of so many turns: as many changes as its steps have. */
static FadeTask task_of(const MixPath *path, uint32_t turns, double blur, uint64_t nodes)
{
    return (FadeTask){path, turns, blur, 2 * steps_within(turns) + 1, UINT32_MAX, 1, nodes};
}

static double ratio_to_steps(const FadeTask *task, const FadeChoice *choice)
{
    unsigned char by_steps[MOST_CHOSEN_TURNS];
    fade_by_steps(by_steps, task->turns);
    return choice->departure / fade_departure(task->path, by_steps, task->turns, task->blur);
}

static int by_size(const void *a, const void *b)
{
    double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

static double median(double *numbers, size_t count)
{
    qsort(numbers, count, sizeof *numbers, by_size);
    return count % 2 ? numbers[count / 2] : (numbers[count / 2 - 1] + numbers[count / 2]) / 2;
}

/* Of random shades: what is gained on the fade by steps, all of it proven, and what it costs. tests/bench/fades.py
 * measures more of them. */
static void test_gain(void **state)
{
    (void)state;
    enum { PAIRS = 60 };
    static const struct {
        uint32_t turns;
        double least_blur, most_blur, ratio, first, nodes;
    } rows[] = {
        {20, 1, 3, 0.35, 0.3, 5000},   {30, 1, 3, 0.35, 0.35, 5000},  {42, 1, 3, 0.35, 0.45, 7500},
        {56, 1, 3, 0.35, 0.45, 10000}, {20, 1, 1, 0.45, 0.46, 5000},  {30, 1, 1, 0.45, 0.46, 5000},
        {42, 1, 1, 0.45, 0.47, 7500},  {56, 1, 1, 0.45, 0.48, 10000},
    };
    for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
        uint64_t random = 77 + row;
        double ratios[PAIRS], firsts[PAIRS], nodes[PAIRS];
        for (int i = 0; i < PAIRS; i++) {
            MixPath path = random_path(&random);
            double blur = between(&random, rows[row].least_blur, rows[row].most_blur);
            FadeTask task = task_of(&path, rows[row].turns, blur, 200000);
            unsigned char is_new[MOST_CHOSEN_TURNS];
            FadeChoice choice = choose_fade(&task, is_new);
            assert_kept_and_told(&task, &choice, is_new);
            assert_within(choice.bound, choice.departure, 0);
            ratios[i] = ratio_to_steps(&task, &choice);
            nodes[i] = (double)choice.nodes;
            task.nodes = 0;
            choice = choose_fade(&task, is_new);
            firsts[i] = ratio_to_steps(&task, &choice);
        }
        assert_true(median(ratios, PAIRS) <= rows[row].ratio);
        assert_true(median(firsts, PAIRS) <= rows[row].first);
        assert_true(median(nodes, PAIRS) <= rows[row].nodes);
    }
}

/* Fades longer than can be searched to their end, within few nodes: better than by steps, and never worse than the
 * cheap first answer. */
static void test_long_fades(void **state)
{
    (void)state;
    static const struct {
        uint32_t turns;
        double blur, ratio;
    } rows[] = {{110, 1, 0.5}, {110, 3, 0.3}, {240, 1, 0.45}, {240, 3, 0.4}, {500, 2, 0.5}, {500, 20, 0.3}};
    uint64_t random = 3;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        MixPath path = random_path(&random);
        FadeTask task = task_of(&path, rows[i].turns, rows[i].blur, 0);
        unsigned char is_new[MOST_CHOSEN_TURNS];
        FadeChoice first = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &first, is_new);
        assert_within(first.bound, 0, 0);
        assert_true(ratio_to_steps(&task, &first) <= 1);
        task.nodes = 100000;
        FadeChoice choice = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &choice, is_new);
        assert_true(choice.bound > 0 && choice.departure <= first.departure);
        assert_true(ratio_to_steps(&task, &choice) <= rows[i].ratio);
    }
}

/* Turned round and with its shades exchanged a fade is the same fade. */
static void test_either_way_round(void **state)
{
    (void)state;
    uint64_t random = 9;
    for (int i = 0; i < 20; i++) {
        MixPath path = random_path(&random), back = mix_path(path.to, path.from);
        FadeTask task = task_of(&path, (uint32_t)between(&random, 10, 40), between(&random, 0.5, 3), 200000);
        task.most_by_hand = i % 2 ? task.turns / 2 - 1 : UINT32_MAX;
        FadeTask turned = task;
        turned.path = &back;
        unsigned char is_new[MOST_CHOSEN_TURNS];
        double departure = choose_fade(&task, is_new).departure;
        assert_within(choose_fade(&turned, is_new).departure, departure, SAME_DEPARTURE + 1e-6);
    }
}

/* Long runs are kept to where windows do not hold them; a run that goes on a band may be shorter. */
static void test_long_runs(void **state)
{
    (void)state;
    uint64_t random = 6;
    for (int i = 0; i < 60; i++) {
        MixPath path = random_path(&random);
        FadeTask task =
            task_of(&path, i % 2 ? 14 : (uint32_t)between(&random, 30, 60), between(&random, 1, 4), 100000);
        task.shortest = i % 2 ? 3 + (uint32_t)i / 2 % 3 : (uint32_t)between(&random, 8, 13);
        unsigned char is_new[MOST_CHOSEN_TURNS];
        FadeChoice choice = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &choice, is_new);
        if (i % 2)
            assert_as_all(&task);
    }
}

/* Of few turns by hand, too, all sequences were gone through; fades begin with the new shade there, or lean. */
static void test_as_all_sequences_of_few_turns_by_hand(void **state)
{
    (void)state;
    uint64_t random = 12;
    for (int i = 0; i < 500; i++) {
        MixPath path = random_path(&random);
        FadeTask task = task_of(&path, (uint32_t)between(&random, 9, 14), between(&random, 0.5, 5), 100000);
        task.most_by_hand = (uint32_t)between(&random, 0, task.turns / 2.0);
        unsigned char is_new[MOST_TURNS];
        assert_within(choose_fade(&task, is_new).departure, least_of_all(&task), SAME_DEPARTURE + 1e-8);
    }
}

/* Where one thread may make few turns only, the fade has as few, leans to the other, and is had as cheaply. */
static void test_few_turns_by_hand(void **state)
{
    (void)state;
    uint64_t random = 4;
    for (int i = 0; i < 10; i++) {
        MixPath path = random_path(&random);
        FadeTask task = task_of(&path, 56, 2, 200000);
        task.most_by_hand = 20;
        unsigned char is_new[MOST_CHOSEN_TURNS];
        FadeChoice choice = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &choice, is_new);
        assert_true(choice.departure < 0.3);
        task.nodes = 0;
        FadeChoice first = choose_fade(&task, is_new);
        assert_kept_and_told(&task, &first, is_new);
        assert_true(first.departure < 0.31);
        task = task_of(&path, 30, 2, 200000);
        task.most_by_hand = 10;
        choice = choose_fade(&task, is_new);
        assert_within(choice.bound, choice.departure, 0);
        assert_true(choice.nodes < 60000);
    }
}

static void test_strange_tasks(void **state)
{
    (void)state;
    MixPath equal = mix_path(light_of(0x405060), light_of(0x405060)),
            far = mix_path(light_of(0), light_of(0xffffff));
    const MixPath *paths[] = {&equal, &far};
    static const uint32_t turns[] = {1, 2, 3, 7, MOST_CHOSEN_TURNS};
    static const double blurs[] = {0, 1e-300, 1e-3, 1, 1e3, 1e300};
    static const uint32_t limits[] = {0, 1, 2, 3, 21, 10000, UINT32_MAX};
    uint64_t random = 1;
    for (int i = 0; i < 300; i++) {
#define ANY(table) table[(size_t)between(&random, 0, sizeof table / sizeof *table)]
        FadeTask task = {ANY(paths),  ANY(turns),  ANY(blurs),      ANY(limits),
                         ANY(limits), ANY(limits), i % 3 ? 3000 : 0};
#undef ANY
        unsigned char is_new[MOST_CHOSEN_TURNS + 1], again[MOST_CHOSEN_TURNS + 1];
        memset(is_new, 7, sizeof is_new);
        FadeChoice choice = choose_fade(&task, is_new), second = choose_fade(&task, again);
        assert_kept_and_told(&task, &choice, is_new);
        assert_int_equal(is_new[task.turns], 7);
        assert_true(choice.departure >= 0 && choice.departure <= 1 && choice.bound >= 0);
        assert_memory_equal(is_new, again, task.turns);
        assert_true(choice.departure == second.departure && choice.bound == second.bound);
        if (task.most_changes <= 2 || task.shortest > task.turns)
            assert_int_equal(fade_changes(is_new, task.turns), 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_departure_by_its_definition),
        cmocka_unit_test(test_departure_without_blur),
        cmocka_unit_test(test_changes_from_band_to_band),
        cmocka_unit_test(test_fade_by_steps),
        cmocka_unit_test(test_fade_evenly),
        cmocka_unit_test(test_limits_of_a_task),
        cmocka_unit_test(test_as_all_sequences_of_few_turns),
        cmocka_unit_test(test_as_all_sequences_of_20_turns),
        cmocka_unit_test(test_as_all_changes_of_30_turns),
        cmocka_unit_test(test_windows_want_no_more_than_there_is),
        cmocka_unit_test(test_long_runs),
        cmocka_unit_test(test_gain),
        cmocka_unit_test(test_long_fades),
        cmocka_unit_test(test_either_way_round),
        cmocka_unit_test(test_as_all_sequences_of_few_turns_by_hand),
        cmocka_unit_test(test_few_turns_by_hand),
        cmocka_unit_test(test_strange_tasks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
