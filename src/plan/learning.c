#include "plan/learning.h"

#include "base/limits.h"
#include "trade/estimate.h"

#include <math.h>

/* The first quantity is no thread's. */
enum { PACKING, NOT_READ = PACKING };

struct Learning {
    Arena *arena;
    const Bench *bench;
    Estimate estimate;  /* this wrap's packing, then the threads that were read: shares of the written width */
    uint32_t *quantity; /* of each thread of the job; NOT_READ: as it is written */
    Weight *weights;    /* of one width; as many as the estimate has room for */
    bool taught;        /* something was read, or known */
    bool *read;         /* of each thread of the job: here */
};

static double square(double x) { return x * x; }

/* Room doubles: what is known is written anew, row by row. */
static void make_room(Learning *learning, uint32_t wanted)
{
    Estimate old = learning->estimate, *estimate = &learning->estimate;
    if (wanted <= old.room)
        return;
    while (estimate->room < wanted)
        estimate->room = arena_next_room(estimate->room);
    size_t room = estimate->room;
    estimate->means = arena_take_many(learning->arena, room, sizeof(double));
    estimate->gains = arena_take_many(learning->arena, room, sizeof(double));
    estimate->covariances = arena_take_many(learning->arena, room * room, sizeof(double));
    learning->weights = arena_take_many(learning->arena, room, sizeof(Weight));
    for (uint32_t i = 0; i < old.count; i++) {
        estimate->means[i] = old.means[i];
        for (uint32_t j = 0; j < old.count; j++)
            estimate->covariances[i * room + j] = old.covariances[(size_t)i * old.room + j];
    }
}

/* A reading that is off by more of its standard uncertainties than that is asked about: fewer than three in a
 * thousand are (of a normal distribution; JCGM 100:2008, Evaluation of measurement data - Guide to the expression
 * of uncertainty in measurement, table G.1, from memory). */
#define ASKED_FROM 3.0

bool width_is_far(Learning *learning, const ThreadWidths *widths, double off)
{
    double uncertainty = hypot(width_uncertainty(learning, widths), learning->bench->reading);
    return fabs(off - width_off(learning, widths)) > ASKED_FROM * uncertainty;
}

/* --- from one job to the next --- */

/* This wrap's packing is the first quantity, and stays behind. */
KnownThreads learning_known(Arena *arena, const Learning *learning, const Job *job)
{
    const Estimate *estimate = &learning->estimate;
    KnownThreads known = {.count = estimate->count - 1};
    known.threads = arena_take_many(arena, known.count, sizeof *known.threads);
    known.means = arena_take_many(arena, known.count, sizeof(double));
    known.covariances = arena_take_many(arena, (size_t)known.count * known.count, sizeof(double));
    for (uint32_t i = 0; i < job->thread_count; i++)
        if (learning->quantity[i] != NOT_READ)
            known.threads[learning->quantity[i] - 1] = job->threads[i];
    for (uint32_t i = 0; i < known.count; i++) {
        known.means[i] = estimate->means[i + 1];
        for (uint32_t j = 0; j < known.count; j++)
            known.covariances[(size_t)i * known.count + j] =
                estimate->covariances[(size_t)(i + 1) * estimate->room + j + 1];
    }
    return known;
}

static void take_known(Learning *learning, const KnownThreads *known)
{
    Estimate *estimate = &learning->estimate;
    make_room(learning, known->count + 1);
    for (uint32_t i = 0; i < known->count; i++) {
        uint32_t quantity = learning->quantity[known->threads[i]->index] = estimate_add(estimate, 0);
        estimate->means[quantity] = known->means[i];
        for (uint32_t j = 0; j <= i; j++)
            estimate->covariances[(size_t)quantity * estimate->room + j + 1] =
                estimate->covariances[(size_t)(j + 1) * estimate->room + quantity] =
                    known->covariances[(size_t)i * known->count + j];
    }
    learning->taught = known->count > 0;
}

Learning *learning_start(Arena *arena, const Job *job)
{
    Learning *learning = arena_take(arena, sizeof *learning);
    learning->arena = arena;
    learning->bench = &job->bench;
    learning->quantity = arena_take_many(arena, job->thread_count, sizeof *learning->quantity);
    make_room(learning, 1);
    learning->read = arena_take_many(arena, job->thread_count, sizeof *learning->read);
    estimate_add(&learning->estimate, square(job->bench.varies));
    take_known(learning, &job->known);
    return learning;
}

void learning_next_wrap(Learning *learning)
{
    if (learning)
        estimate_renew(&learning->estimate, PACKING, square(learning->bench->varies));
}

double thread_turn(const Learning *learning, const Thread *thread)
{
    uint32_t quantity = learning ? learning->quantity[thread->index] : NOT_READ;
    return quantity == NOT_READ ? thread->pitch : thread->pitch * (1 + learning->estimate.means[quantity]);
}

bool thread_is_read(const Learning *learning, const Thread *thread) { return learning->read[thread->index]; }

bool thread_is_taught(const Learning *learning, const Thread *thread)
{
    return learning->quantity[thread->index] != NOT_READ;
}

double turn_uncertainty(const Learning *learning, const Thread *thread)
{
    uint32_t quantity = learning->quantity[thread->index];
    if (quantity == NOT_READ)
        return thread->pitch * thread->uncertainty;
    return sqrt(estimate_variance(&learning->estimate, &(Weight){quantity, thread->pitch}, 1));
}

double turn_here(const Learning *learning, const Strands *strands)
{
    if (!learning || !learning->taught)
        return strands->pitch;
    double width = strands->pitch * learning->estimate.means[PACKING];
    for (uint32_t i = 0; i < strands->count; i++)
        width += thread_turn(learning, strands->items[i].thread);
    return width;
}

/* A width in the estimate's words: weights of its quantities, and the variance of what is none of them. */
typedef struct Weighed {
    uint32_t count;
    double apart; /* mm2 */
} Weighed;

static Weighed weigh(Learning *learning, const ThreadWidths *widths)
{
    Weighed weighed = {1, 0};
    learning->weights[0] = (Weight){PACKING, thread_widths_sum(widths)};
    for (uint32_t i = 0; i < widths->list.count; i++) {
        const ThreadWidth *one = &widths->list.items[i];
        uint32_t quantity = learning->quantity[one->thread->index];
        if (quantity == NOT_READ)
            weighed.apart += square(one->width * one->thread->uncertainty);
        else
            learning->weights[weighed.count++] = (Weight){quantity, one->width};
    }
    return weighed;
}

double width_off(Learning *learning, const ThreadWidths *widths)
{
    return estimate_mean(&learning->estimate, learning->weights, weigh(learning, widths).count);
}

double width_uncertainty(Learning *learning, const ThreadWidths *widths)
{
    Weighed weighed = weigh(learning, widths);
    return sqrt(estimate_variance(&learning->estimate, learning->weights, weighed.count) + weighed.apart);
}

/* --- run after run --- */

void width_sure_start(WidthSure *sure, Arena *arena, const Learning *learning, ThreadWidths *widths)
{
    *sure = (WidthSure){.learning = learning,
                        .widths = widths,
                        .with = arena_take_many(arena, learning->estimate.count, sizeof(double))};
    thread_widths_clear(widths);
}

void width_sure_again(WidthSure *sure)
{
    thread_widths_clear(sure->widths);
    sure->variance = 0;
    for (uint32_t i = 0; i < sure->learning->estimate.count; i++)
        sure->with[i] = 0;
}

/* The variance of a sum with so much more of one quantity; and what hangs together with it. */
static void add_quantity(WidthSure *sure, uint32_t quantity, double width)
{
    const Estimate *estimate = &sure->learning->estimate;
    const double *row = &estimate->covariances[(size_t)quantity * estimate->room];
    sure->variance += 2 * width * sure->with[quantity] + square(width) * row[quantity];
    for (uint32_t i = 0; i < estimate->count; i++)
        sure->with[i] += width * row[i];
}

void width_sure_add(WidthSure *sure, const Strands *strands, double turns)
{
    for (uint32_t i = 0; i < strands->count; i++) {
        const Thread *thread = strands->items[i].thread;
        uint32_t quantity = sure->learning->quantity[thread->index];
        double width = turns * thread->pitch, before = thread_width(sure->widths, thread);
        add_quantity(sure, PACKING, width);
        if (quantity == NOT_READ)
            sure->variance += (2 * before + width) * width * square(thread->uncertainty);
        else
            add_quantity(sure, quantity, width);
        thread_widths_add(sure->widths, &(Strands){.items = &strands->items[i], .count = 1}, turns);
    }
}

double width_sure_uncertainty(const WidthSure *sure) { return sqrt(fmax(0, sure->variance)); }

/* --- what is read --- */

/* Threads that are read for the first time become quantities, up to the limit. */
static void take_up(Learning *learning, const ThreadWidths *widths)
{
    for (uint32_t i = 0; i < widths->list.count && learning->estimate.count <= LIMIT_LEARNED; i++) {
        const Thread *thread = widths->list.items[i].thread;
        learning->read[thread->index] = true;
        if (learning->quantity[thread->index] != NOT_READ)
            continue;
        make_room(learning, learning->estimate.count + 1);
        learning->quantity[thread->index] = estimate_add(&learning->estimate, square(thread->uncertainty));
    }
}

void learn(Learning *learning, const ThreadWidths *widths, double off)
{
    learning->taught = true;
    take_up(learning, widths);
    Weighed weighed = weigh(learning, widths);
    double error = square(learning->bench->reading) + weighed.apart;
    estimate_read(&learning->estimate, learning->weights, weighed.count, off, error);
}
