/* Fades of random shades whose turns are chosen, for fades.py:
 *
 *     fades TURNS LEAST_BLUR MOST_BLUR PAIRS
 *
 * prints the median of their departures as a share of those of the plain fade, the share of them that is proven,
 * and the median of milliseconds of the processor. Shades have a CIEDE2000 difference of 8 to 40. */
#include "trade/chosen_fade.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { MOST_PAIRS = 1000 };
static const uint64_t NODES = 200000;

static double between(uint64_t *state, double low, double high)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return low + (high - low) * ((double)(*state >> 11) * 0x1p-53);
}

static MixPath random_path(uint64_t *random)
{
    for (;;) {
        uint32_t from = (uint32_t)between(random, 0, 0x1000000), to = (uint32_t)between(random, 0, 0x1000000);
        double difference = difference_seen(VISION_ALL_CONES, from, to);
        if (difference >= 8 && difference <= 40)
            return mix_path(light_of(from), light_of(to));
    }
}

static double milliseconds(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static int by_size(const void *a, const void *b)
{
    double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

static double median(double *numbers, int count)
{
    qsort(numbers, (size_t)count, sizeof *numbers, by_size);
    return (numbers[(count - 1) / 2] + numbers[count / 2]) / 2;
}

int main(int count, char **words)
{
    uint32_t turns = count == 5 ? (uint32_t)atoi(words[1]) : 0;
    int pairs = count == 5 ? atoi(words[4]) : 0, proven = 0;
    if (turns < 1 || turns > MOST_CHOSEN_TURNS || pairs < 1 || pairs > MOST_PAIRS)
        return 2;
    uint64_t random = 1013;
    double ratios[MOST_PAIRS], times[MOST_PAIRS];
    for (int i = 0; i < pairs; i++) {
        unsigned char is_new[MOST_CHOSEN_TURNS];
        MixPath path = random_path(&random);
        double blur = between(&random, atof(words[2]), atof(words[3]));
        fade_by_steps(is_new, turns);
        double plain = fade_departure(&path, is_new, turns, blur), before = milliseconds();
        FadeTask task = {&path, turns, blur, 2 * steps_within(turns) + 1, UINT32_MAX, 1, NODES};
        FadeChoice choice = choose_fade(&task, is_new);
        times[i] = milliseconds() - before;
        ratios[i] = choice.departure / plain;
        proven += choice.bound == choice.departure;
    }
    printf("%.6f %.6f %.6f\n", median(ratios, pairs), (double)proven / pairs, median(times, pairs));
    return 0;
}
