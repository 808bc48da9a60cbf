#include "trade/smooth_fade.h"

/* Two turns so near are tried together, and so many turns are looked at in all: by trial, more gain nothing that
 * is seen. */
enum { NEAR_TURNS = 8, MOST_LOOKS = 200000 };
/* Less is what rounding does. */
static const double LEAST_GAIN = 1e-6;

/* By turn: 0 is the one before the fade, and behind its last one comes one more. */
typedef struct Turns {
    double shares[MOST_CHOSEN_TURNS + 2]; /* of the new shade that is seen there */
    Lab colours[MOST_CHOSEN_TURNS + 2];
} Turns;

typedef struct Smoothing {
    const FadeTask *task;
    const FadeSight *sight;
    unsigned char *is_new;
    double most; /* that a turn may be off */
    uint32_t looks;
    Turns seen, tried;
} Smoothing;

/* The turns that a change is seen at, as good as all of it. */
typedef struct TurnsNear {
    int from, to;
} TurnsNear;

static TurnsNear turns_near(const FadeSight *sight, int one, int other)
{
    int from = one - sight->reach, to = other + sight->reach;
    return (TurnsNear){from > 0 ? from : 0, to <= sight->turns ? to : sight->turns + 1};
}

static void see(Smoothing *smoothing, Turns *turns, int turn, double share)
{
    turns->shares[turn] = share;
    turns->colours[turn] = lab_of_light(mixed_light(smoothing->task->path, share));
}

static double squares(const Turns *turns, TurnsNear near)
{
    double sum = 0;
    for (int turn = near.from + 1; turn <= near.to; turn++) {
        double distance = lab_distance(turns->colours[turn - 1], turns->colours[turn]);
        sum += distance * distance;
    }
    return sum;
}

/* The turns near with one or two turns changed over; false as soon as one of the fade is off by too much. */
static bool see_changed(Smoothing *smoothing, TurnsNear near, int one, int other)
{
    const FadeSight *sight = smoothing->sight;
    for (int turn = near.from; turn <= near.to; turn++) {
        double share = smoothing->seen.shares[turn] + seen_change(sight, smoothing->is_new, turn, one)
                       + (other == one ? 0 : seen_change(sight, smoothing->is_new, turn, other));
        smoothing->looks++;
        if (turn > 0 && turn <= sight->turns
            && departure_of(sight, smoothing->task->path, share, turn) > smoothing->most)
            return false;
        see(smoothing, &smoothing->tried, turn, share);
    }
    return true;
}

static void change(Smoothing *smoothing, int one, int other)
{
    smoothing->is_new[one - 1] ^= 1;
    smoothing->is_new[other - 1] ^= other != one;
}

static bool is_smoother(Smoothing *smoothing, int one, int other)
{
    Turns *seen = &smoothing->seen, *tried = &smoothing->tried;
    TurnsNear near = turns_near(smoothing->sight, one, other);
    if (!see_changed(smoothing, near, one, other) || squares(tried, near) >= squares(seen, near) - LEAST_GAIN)
        return false;
    change(smoothing, one, other);
    if (!within_limits(smoothing->task, smoothing->is_new)) {
        change(smoothing, one, other);
        return false;
    }
    for (int turn = near.from; turn <= near.to; turn++) {
        seen->shares[turn] = tried->shares[turn];
        seen->colours[turn] = tried->colours[turn];
    }
    return true;
}

void smooth_fade(const FadeTask *task, const FadeSight *sight, unsigned char *is_new)
{
    Smoothing smoothing = {
        .task = task, .sight = sight, .is_new = is_new, .most = most_departure(sight, task->path, is_new).most};
    for (int turn = 0; turn <= sight->turns + 1; turn++)
        see(&smoothing, &smoothing.seen, turn, share_of_new(sight, is_new, turn));
    for (bool smoother = true; smoother;) {
        smoother = false;
        for (int one = 1; one <= sight->turns; one++)
            for (int other = one; other <= sight->turns && other <= one + NEAR_TURNS; other++)
                smoother |= smoothing.looks < MOST_LOOKS && is_smoother(&smoothing, one, other);
    }
}
