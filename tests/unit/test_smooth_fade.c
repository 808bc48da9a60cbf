/* The last touch to chosen turns: by its definition, no turn and no two turns near one another can be changed over
 * any more to make it smoother; it is off by no more than before, and keeps the limits. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "near.h"

#include "base/text.h"
#include "trade/eye.h"
#include "trade/smooth_fade.h"

enum { BAND = 200, MOST_TURNS = 64, NEAR_ENOUGH = 8 };

static MixPath random_path(uint64_t *random)
{
    return mix_path(light_of((uint32_t)between(random, 0, 0x1000000)),
                    light_of((uint32_t)between(random, 0, 0x1000000)));
}

static double share_at(const unsigned char *is_new, uint32_t turns, double blur, int turn)
{
    double middle = turn - 0.5, share = eye_share(blur, middle, turns, turns + BAND * (blur + 1));
    for (uint32_t i = 0; i < turns; i++)
        share += is_new[i] * eye_share(blur, middle, i, i + 1);
    return share;
}

/* From the turn before the fade to the one behind it. */
static double squares_of(const FadeTask *task, const unsigned char *is_new)
{
    Lab before = {0};
    double sum = 0;
    for (int turn = 0; turn <= (int)task->turns + 1; turn++) {
        Lab here = lab_of_light(mixed_light(task->path, share_at(is_new, task->turns, task->blur, turn)));
        sum += turn ? pow(lab_distance(before, here), 2) : 0;
        before = here;
    }
    return sum;
}

static FadeTask random_task(uint64_t *random, const MixPath *path, uint32_t most_turns)
{
    FadeTask task = {.path = path,
                     .turns = (uint32_t)between(random, 2, most_turns),
                     .blur = between(random, 0.5, 3),
                     .shortest = (uint32_t)between(random, 1, 3)};
    task.most_changes = 2 * (uint32_t)between(random, 0, task.turns / 2.0) + 1;
    task.most_by_hand = (uint32_t)between(random, 1, task.turns);
    return task;
}

static void test_no_change_makes_it_smoother(void **state)
{
    (void)state;
    uint64_t random = 3;
    uint32_t changed = 0;
    for (int i = 0; i < 200; i++) {
        MixPath path = random_path(&random);
        FadeTask task = random_task(&random, &path, 24);
        FadeSight sight = fade_sight(task.turns, task.blur);
        unsigned char is_new[MOST_TURNS], before[MOST_TURNS];
        fade_by_steps(is_new, task.turns);
        if (!within_limits(&task, is_new))
            first_fade(&task, &sight, is_new);
        memcpy(before, is_new, sizeof is_new);
        double most = fade_departure(&path, is_new, task.turns, task.blur);
        smooth_fade(&task, &sight, is_new);
        assert_true(within_limits(&task, is_new));
        assert_true(fade_departure(&path, is_new, task.turns, task.blur) <= most + 1e-12);
        double squares = squares_of(&task, is_new);
        changed += memcmp(before, is_new, task.turns) != 0;
        assert_true(squares <= squares_of(&task, before) + 1e-9);
        for (uint32_t one = 0; one < task.turns; one++)
            for (uint32_t other = one; other < task.turns && other <= one + NEAR_ENOUGH; other++) {
                unsigned char tried[MOST_TURNS];
                memcpy(tried, is_new, sizeof tried);
                tried[one] ^= 1;
                tried[other] ^= other != one;
                bool allowed = within_limits(&task, tried)
                               && fade_departure(&path, tried, task.turns, task.blur) <= most - 1e-9;
                assert_false(allowed && squares_of(&task, tried) < squares - 1e-5);
            }
    }
    assert_true(changed > 20);
}

/* The same fade every time, of as many turns as may be: it ends with the looks that are taken. */
static void test_many_turns(void **state)
{
    (void)state;
    MixPath path = mix_path(light_of(0x3b2418), light_of(0xd69a2d));
    FadeTask task = {&path, MOST_CHOSEN_TURNS, 1.9, 61, UINT32_MAX, 1, 0};
    FadeSight sight = fade_sight(task.turns, task.blur);
    unsigned char is_new[MOST_CHOSEN_TURNS + 1], again[MOST_CHOSEN_TURNS + 1];
    is_new[MOST_CHOSEN_TURNS] = again[MOST_CHOSEN_TURNS] = 7;
    first_fade(&task, &sight, is_new);
    memcpy(again, is_new, sizeof is_new);
    double before = squares_of(&task, is_new);
    smooth_fade(&task, &sight, is_new);
    smooth_fade(&task, &sight, again);
    assert_memory_equal(is_new, again, sizeof is_new);
    assert_true(squares_of(&task, is_new) < 0.9 * before);
    assert_int_equal(hash_bytes(HASH_START, is_new, MOST_CHOSEN_TURNS) & 0xffffffff, 0x58c1132c);
    assert_true(within_limits(&task, is_new));
}

/* Fades by steps between two shades, of 36 and of 60 turns, as they come out. */
static void test_as_they_come_out(void **state)
{
    (void)state;
    static const struct {
        uint32_t turns;
        const char *made;
    } cases[] = {
        {36, "#...#.#..##..##.#.##.###.####.####.#"},
        {60, "#....#...#...#..#..#.#..##..#.##..##..##.##.##.###.#########"},
    };
    MixPath path = mix_path(light_of(0x3b2418), light_of(0xd69a2d));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        FadeTask task = {&path, cases[i].turns, 1.9, 31, UINT32_MAX, 1, 0};
        FadeSight sight = fade_sight(task.turns, task.blur);
        unsigned char is_new[MOST_TURNS];
        char made[MOST_TURNS + 1] = "";
        fade_by_steps(is_new, task.turns);
        smooth_fade(&task, &sight, is_new);
        for (uint32_t turn = 0; turn < task.turns; turn++)
            made[turn] = is_new[turn] ? '#' : '.';
        assert_string_equal(made, cases[i].made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_change_makes_it_smoother),
        cmocka_unit_test(test_many_turns),
        cmocka_unit_test(test_as_they_come_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
