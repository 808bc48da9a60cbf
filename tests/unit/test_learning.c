/* What widths teach of threads: against the closed form of weighted means, and against draws from both variances.
 */
#include "plan/earlier.h"
#include "plan/learning.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>

#include "near.h"

static Trap trap;
static Arena arena;

typedef struct Setting {
    Job job;
    Thread threads[3];
    Strand strand[3];
    Strands strands[3];
} Setting;

static Setting *setting(double uncertainty, double varies, double reading)
{
    Setting *set = arena_take(&arena, sizeof *set);
    set->job.bench = (Bench){.varies = varies, .reading = reading};
    set->job.thread_count = 3;
    for (uint32_t i = 0; i < 3; i++) {
        set->threads[i] = (Thread){.pitch = 0.15 + 0.01 * i, .uncertainty = uncertainty, .index = i};
        set->strand[i] = (Strand){&set->threads[i], false};
        set->strands[i] = (Strands){&set->strand[i], 1, set->threads[i].pitch, set->threads[i].pitch};
    }
    return set;
}

static ThreadWidths turns_of(const Setting *set, double first, double second)
{
    ThreadWidths widths;
    thread_widths_start(&widths, &arena, &set->job);
    if (first > 0)
        thread_widths_add(&widths, &set->strands[0], first);
    if (second > 0)
        thread_widths_add(&widths, &set->strands[1], second);
    return widths;
}

static double variance(double standard) { return standard * standard; }

/* --- draws --- */

static uint64_t state;

static double uniform(void) { return between(&state, 1e-12, 1); }

static double normal(void) { return sqrt(-2 * log(uniform())) * cos(2 * acos(-1) * uniform()); }

/* --- one width --- */

/* JCGM 100:2008, Evaluation of measurement data - Guide to the expression of uncertainty in measurement, eq. 13:
 * turns of one thread are all off alike. 120 turns of 0.160 mm, each known to 0.004 mm, are 19.20 mm wide, known
 * to 0.48 mm; and so are a million draws. */
static void turns_of_one_thread_are_off_together(void **unused)
{
    (void)unused;
    Setting *set = setting(0.025, 0, 0.15);
    ThreadWidths widths = turns_of(set, 0, 120);
    Learning *learning = learning_start(&arena, &set->job);
    assert_within(thread_widths_sum(&widths), 19.2, 1e-12);
    assert_within(width_uncertainty(learning, &widths), 0.48, 1e-12);
    assert_within(width_off(learning, &widths), 0, 0);
    state = 1;
    enum { DRAWS = 1000000 };
    double sum = 0, squares = 0;
    for (int i = 0; i < DRAWS; i++) {
        double turn = 0.160 + 0.004 * normal(), width = 120 * turn;
        sum += width;
        squares += variance(width - 19.2);
    }
    assert_within(sum / DRAWS, 19.2, 0.002);
    assert_within(sqrt(squares / DRAWS), 0.48, 0.002);
}

static void threads_and_packing_add_as_squares(void **unused)
{
    (void)unused;
    Setting *set = setting(0.02, 0.01, 0.15);
    ThreadWidths widths = turns_of(set, 100, 50);
    Learning *learning = learning_start(&arena, &set->job);
    double one = 100 * 0.15, other = 50 * 0.16;
    double whole = sqrt(variance(one * 0.02) + variance(other * 0.02) + variance((one + other) * 0.01));
    assert_within(width_uncertainty(learning, &widths), whole, 1e-12);
}

/* --- what is learned --- */

/* One thread, one reading: the mean of what was known and what was read, weighed by the inverse of the variances.
 */
static void one_reading_is_weighed_by_inverse_variances(void **unused)
{
    (void)unused;
    Setting *set = setting(0.02, 0.01, 0.15);
    ThreadWidths widths = turns_of(set, 100, 0);
    Learning *learning = learning_start(&arena, &set->job);
    learn(learning, &widths, 0.3);
    double known = 1 / variance(0.02), read = 1 / (variance(0.01) + variance(0.15 / 15));
    double share = 0.3 / 15 * read / (known + read);
    assert_within(thread_turn(learning, &set->threads[0]), 0.15 * (1 + share), 1e-15);
    double here = 0.3 / 15 / (variance(0.02) + variance(0.01) + variance(0.15 / 15)) * variance(0.01);
    assert_within(turn_here(learning, &set->strands[0]), 0.15 * (1 + share + here), 1e-15);
    learning_next_wrap(learning);
    assert_within(turn_here(learning, &set->strands[0]), 0.15 * (1 + share), 1e-15);
    assert_within(thread_turn(learning, &set->threads[1]), 0.16, 0);
    ThreadWidths next = turns_of(set, 100, 0);
    double left = 1 / (known + read);
    assert_within(width_uncertainty(learning, &next), 15 * sqrt(left + variance(0.01)), 1e-12);
}

/* Readings of several wraps: each has a packing of its own, so that all count alike. */
static void wraps_count_alike(void **unused)
{
    (void)unused;
    Setting *set = setting(0.05, 0.01, 0.15);
    Learning *learning = learning_start(&arena, &set->job);
    static const double off[] = {0.3, -0.1, 0.2, 0.25};
    double weight = 1 / variance(0.05), sum = 0;
    for (int i = 0; i < 4; i++) {
        ThreadWidths widths = turns_of(set, 60 + 20 * i, 0);
        double width = 0.15 * (60 + 20 * i), read = 1 / (variance(0.01) + variance(0.15 / width));
        learning_next_wrap(learning);
        learn(learning, &widths, off[i]);
        weight += read;
        sum += read * off[i] / width;
    }
    assert_within(thread_turn(learning, &set->threads[0]), 0.15 * (1 + sum / weight), 1e-12);
}

/* Of an earlier job: widths of one wrap share its packing, so that together they say as much of the thread as one
 * width does; those of another wrap say more. */
static void widths_of_one_wrap_share_its_packing(void **unused)
{
    (void)unused;
    static const double off[] = {0.3, 0.35, -0.1}, turns[] = {60, 100, 80};
    for (uint32_t last_of_first = 0; last_of_first < 3; last_of_first++) {
        Setting *set = setting(0.05, 0.01, 0.15);
        const Thread *thread = &set->threads[0];
        set->job.threads = &thread;
        set->job.thread_count = 1;
        EarlierTurns made[3];
        EarlierWidth widths[3];
        double weight[2] = {0}, sum[2] = {0};
        for (uint32_t i = 0; i < 3; i++) {
            uint32_t wrap = i > last_of_first;
            made[i] = (EarlierTurns){thread, turns[i]};
            widths[i] = (EarlierWidth){&made[i], 1, 0.15 * turns[i] + off[i], wrap, true};
            double read = 1 / variance(0.15 / (0.15 * turns[i]));
            weight[wrap] += read;
            sum[wrap] += read * off[i] / (0.15 * turns[i]);
        }
        double whole = 1 / variance(0.05), share = 0;
        for (uint32_t wrap = 0; wrap < 2; wrap++) {
            if (!(weight[wrap] > 0))
                continue;
            double says = 1 / (variance(0.01) + 1 / weight[wrap]);
            whole += says;
            share += says * sum[wrap] / weight[wrap];
        }
        KnownThreads known = known_from(&arena, &set->job, widths, 3);
        assert_int_equal(known.count, 1);
        assert_ptr_equal(known.threads[0], thread);
        assert_within(known.means[0], share / whole, 1e-12);
        assert_within(known.covariances[0], 1 / whole, 1e-12);
    }
}

/* A hundred thousand builders with threads of their own, each winding a wrap of two threads and reading it twice:
 * what is learned is right on the mean, and as far off as it says. */
static void what_is_learned_is_as_sure_as_it_says(void **unused)
{
    (void)unused;
    enum { BUILDERS = 100000 };
    Setting *set = setting(0.03, 0.012, 0.15);
    ThreadWidths half = turns_of(set, 80, 0), whole = turns_of(set, 80, 120), next = turns_of(set, 100, 30);
    state = 7;
    double misses[2] = {0}, squares[2] = {0}, says[2] = {0}, turn_squares = 0, says_of_turn = 0;
    for (int i = 0; i < BUILDERS; i++) {
        Arena *one = arena_child(&arena);
        Learning *learning = learning_start(one, &set->job);
        double a = 0.03 * normal(), b = 0.03 * normal(), packing = 0.012 * normal();
        learn(learning, &half, 12 * (a + packing) + 0.15 * normal());
        learn(learning, &whole, 12 * (a + packing) + 19.2 * (b + packing) + 0.15 * normal());
        turn_squares += variance(0.15 * (1 + a) - thread_turn(learning, &set->threads[0]));
        says_of_turn = turn_uncertainty(learning, &set->threads[0]);
        for (int later = 0; later < 2; later++) {
            double off = 15 * (a + packing) + 4.8 * (b + packing) - width_off(learning, &next);
            misses[later] += off;
            squares[later] += variance(off);
            says[later] = width_uncertainty(learning, &next);
            learning_next_wrap(learning);
            packing = 0.012 * normal();
        }
        arena_end(one);
    }
    print_message("  a turn of 0.15 mm known to 3 %%, then read: said %.6f mm, %d wraps %.6f mm\n", says_of_turn,
                  BUILDERS, sqrt(turn_squares / BUILDERS));
    assert_within(sqrt(turn_squares / BUILDERS) / says_of_turn, 1, 0.01);
    assert_true(says_of_turn < 0.7 * 0.15 * 0.03);
    for (int later = 0; later < 2; later++) {
        print_message("  width of %s: said %.4f mm, drawn %.4f mm, off %.4f mm on the mean\n",
                      later ? "a later wrap" : "what comes next", says[later], sqrt(squares[later] / BUILDERS),
                      misses[later] / BUILDERS);
        assert_within(misses[later] / BUILDERS, 0, 4 * says[later] / sqrt(BUILDERS));
        assert_within(sqrt(squares[later] / BUILDERS) / says[later], 1, 0.01);
    }
}

/* What one job taught, with the next job's first width read, is as if that width were another wrap's of the same
 * job: of threads that were read together, too, whose uncertainties hang together. */
static void another_job_goes_on_where_one_ended(void **unused)
{
    (void)unused;
    Setting *set = setting(0.03, 0.01, 0.15);
    const Thread *threads[] = {&set->threads[0], &set->threads[1], &set->threads[2]};
    set->job.threads = threads;
    ThreadWidths first = turns_of(set, 50, 20), second = turns_of(set, 20, 90), next = turns_of(set, 40, 60);
    thread_widths_add_thread(&second, threads[2], 70);
    Learning *one = learning_start(&arena, &set->job);
    learn(one, &first, 0.2);
    learn(one, &second, -0.3);
    set->job.known = learning_known(&arena, one, &set->job);
    assert_int_equal(set->job.known.count, 3);
    Learning *other = learning_start(&arena, &set->job);
    learning_next_wrap(one);
    for (int read = 0; read < 2; read++) {
        for (int i = 0; i < 3; i++) {
            assert_within(thread_turn(other, threads[i]), thread_turn(one, threads[i]), 1e-12);
            assert_within(turn_uncertainty(other, threads[i]), turn_uncertainty(one, threads[i]), 1e-12);
        }
        assert_within(width_off(other, &second), width_off(one, &second), 1e-12);
        assert_within(width_uncertainty(other, &second), width_uncertainty(one, &second), 1e-12);
        learn(one, &next, 0.25);
        learn(other, &next, 0.25);
    }
}

/* However many threads were read: each has what its own reading taught, and one that was not read is as it is
 * written. */
static void each_of_many_threads_keeps_what_it_taught(void **unused)
{
    (void)unused;
    enum { MANY = 20 };
    Job job = {.bench = {.varies = 0.01, .reading = 0.15}, .thread_count = MANY + 1};
    Thread threads[MANY + 1];
    Learning *learning = NULL;
    for (uint32_t i = 0; i <= MANY; i++)
        threads[i] = (Thread){.pitch = 0.15 + 0.005 * i, .uncertainty = 0.02 + 0.001 * i, .index = i};
    learning = learning_start(&arena, &job);
    for (uint32_t i = 0; i < MANY; i++) {
        ThreadWidths widths;
        thread_widths_start(&widths, &arena, &job);
        thread_widths_add_thread(&widths, &threads[i], 100);
        learning_next_wrap(learning);
        learn(learning, &widths, 0.3 - 0.02 * i);
    }
    for (uint32_t i = 0; i < MANY; i++) {
        double wide = 100 * threads[i].pitch, known = 1 / variance(threads[i].uncertainty);
        double read = 1 / (variance(0.01) + variance(0.15 / wide));
        double share = (0.3 - 0.02 * i) / wide * read / (known + read);
        assert_within(thread_turn(learning, &threads[i]), threads[i].pitch * (1 + share), 1e-12);
        assert_within(turn_uncertainty(learning, &threads[i]), threads[i].pitch / sqrt(known + read), 1e-12);
        assert_true(thread_is_taught(learning, &threads[i]) && thread_is_read(learning, &threads[i]));
    }
    assert_within(thread_turn(learning, &threads[MANY]), threads[MANY].pitch, 0);
    assert_within(turn_uncertainty(learning, &threads[MANY]), threads[MANY].pitch * threads[MANY].uncertainty,
                  1e-15);
    assert_false(thread_is_taught(learning, &threads[MANY]) || thread_is_read(learning, &threads[MANY]));
}

static void the_order_of_readings_makes_no_difference(void **unused)
{
    (void)unused;
    Setting *set = setting(0.03, 0.01, 0.15);
    ThreadWidths first = turns_of(set, 50, 20), second = turns_of(set, 20, 90), next = turns_of(set, 40, 40);
    Learning *one = learning_start(&arena, &set->job), *other = learning_start(&arena, &set->job);
    learn(one, &first, 0.2);
    learn(one, &second, -0.3);
    learn(other, &second, -0.3);
    learn(other, &first, 0.2);
    assert_within(width_off(one, &next), width_off(other, &next), 1e-12);
    assert_within(width_uncertainty(one, &next), width_uncertainty(other, &next), 1e-12);
}

static int start(void **unused)
{
    (void)unused;
    arena_start(&arena, &trap);
    return 0;
}

static int end(void **unused)
{
    (void)unused;
    arena_end(&arena);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(turns_of_one_thread_are_off_together, start, end),
        cmocka_unit_test_setup_teardown(threads_and_packing_add_as_squares, start, end),
        cmocka_unit_test_setup_teardown(one_reading_is_weighed_by_inverse_variances, start, end),
        cmocka_unit_test_setup_teardown(wraps_count_alike, start, end),
        cmocka_unit_test_setup_teardown(widths_of_one_wrap_share_its_packing, start, end),
        cmocka_unit_test_setup_teardown(what_is_learned_is_as_sure_as_it_says, start, end),
        cmocka_unit_test_setup_teardown(another_job_goes_on_where_one_ended, start, end),
        cmocka_unit_test_setup_teardown(each_of_many_threads_keeps_what_it_taught, start, end),
        cmocka_unit_test_setup_teardown(the_order_of_readings_makes_no_difference, start, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
