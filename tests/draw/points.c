/* Which colour shows at random points of a crosswrap, by crosswrap_shows alone: what the pictures are held
 * against. Only points about which all is the same colour, so that no picture need be exact to a pixel at
 * edges.
 *     points FILE SEED COUNT NEAR SHOWN FACING [stack]
 * NEAR: mm that points keep from edges as the picture shows them; SHOWN: of a turn on either side of the clock
 * angle FACING, in degrees; up to a quarter it is the side view. First line: the field's ends along the axis;
 * then x, turn and colour ("-" where the layer below shows).
 * stack: of the whole place, with the threads that lie on one another there, the lowest first, in place of the
 * colour. */
#include "trade/trade.h"
#include "compilation.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static double random_part(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u; /* Knuth, MMIX */
    return (double)(*state >> 11) / 9007199254740992.0;
}

static Compilation *compile(const char *path)
{
    FILE *file = fopen(path, "rb");
    static char text[1 << 20];
    size_t length = file ? fread(text, 1, sizeof text, file) : 0;
    Compilation *compilation = compilation_new(0);
    if (!file || !compilation)
        exit(3);
    fclose(file);
    turnlay_give(compilation, path, text, length);
    if (turnlay_want(compilation).path || turnlay_finish(compilation) != TURNLAY_DONE)
        exit(1);
    return compilation;
}

enum { NOTHING = -1 };

typedef struct Seen {
    long colour;
    const PlannedCrosswrap *planned;
    SeenStrand strand;
} Seen;

/* How much is wound asks for an integral, so only where the colour goes by it. */
static long colour_of_strand(const PlannedCrosswrap *planned, const SeenStrand *strand, double x)
{
    const Thread *thread = planned->strands[pass_strand(planned, strand->pass)].thread;
    return (long)thread_colour_at(
        thread, thread->colour_count ? crosswrap_wound(planned, strand->pass, strand->leg, x) : 0);
}

/* The topmost layer's crosswrap first. */
static Seen seen_at(const PlannedPlace *place, double x, double turn)
{
    Seen seen = {.colour = NOTHING};
    for (uint32_t l = place->layer_count; l-- > 0;) {
        const PlannedCrosswrap *planned = place->layers[l].crosswrap;
        if (planned && crosswrap_shows(planned, x, turn, &seen.strand)) {
            seen.planned = planned;
            seen.colour = colour_of_strand(planned, &seen.strand, x);
            return seen;
        }
    }
    return seen;
}

/* Near a change of colour the two lie a little on one another, and at a strand's edge pixels show something of
 * both. */
static int changes_colour(const Seen *seen, double x, double near)
{
    double lap = 3.3 * near;
    return seen->planned
           && (colour_of_strand(seen->planned, &seen->strand, x - lap) != seen->colour
               || colour_of_strand(seen->planned, &seen->strand, x + lap) != seen->colour);
}

/* The same colour all round, `near` away and half of it: close enough together for the thinnest wedge. */
static int is_plain(const PlannedPlace *place, double x, double turn, double near, double near_turn)
{
    enum { ROUND = 96 };
    Seen middle = seen_at(place, x, turn);
    const PlannedCrosswrap *planned = place->layers[place->layer_count - 1].crosswrap;
    if (fabs(crosswrap_diameter(planned, x + near) - crosswrap_diameter(planned, x - near)) > 0.1)
        return 0; /* a step of the surface: the picture has two heights there */
    for (int i = 0; i < 2 * ROUND; i++) {
        double angle = i * 2 * TRADE_PI / ROUND, part = i < ROUND ? 1 : 0.5;
        double along = x + part * near * cos(angle);
        Seen seen = seen_at(place, along, turn + part * near_turn * sin(angle));
        int same = seen.strand.pass == middle.strand.pass && seen.strand.leg == middle.strand.leg;
        if (seen.colour != middle.colour
            || (!same && (changes_colour(&seen, along, near) || changes_colour(&middle, x, near))))
            return 0;
    }
    return 1;
}

enum { MOST_STACKED = 32 };

typedef struct Stack {
    const Thread *threads[MOST_STACKED];
    int count;
} Stack;

static void stack_on(Stack *stack, const Thread *thread)
{
    if (stack->count == MOST_STACKED)
        exit(3);
    stack->threads[stack->count++] = thread;
}

/* Every leg, in laying order, by how far its line lies off along the blank. */
static void stack_crosswrap(Stack *stack, const PlannedCrosswrap *planned, double x, double turn)
{
    if (x < fmin(planned->field_start, planned->field_end) || x > fmax(planned->field_start, planned->field_end))
        return;
    double across[LEG_COUNT]; /* for one along the blank */
    for (uint32_t leg = 0; leg < leg_count(planned); leg++)
        across[leg] = cos(crosswrap_angle(planned, (Leg)leg, x));
    for (uint32_t pass = 0; pass < planned->pass_count; pass++)
        for (uint32_t leg = 0; leg < leg_count(planned); leg++) {
            const BundleStrand *strand = &planned->strands[pass_strand(planned, pass)];
            double on = crosswrap_turn(planned, pass_start(planned, pass), (Leg)leg, strand->middle, x);
            double along = remainder(on - turn, 1) * planned->lead[leg];
            if (!strand->spacer && fabs(along) * across[leg] <= strand->width / 2)
                stack_on(stack, strand->thread);
        }
}

static Stack stack_at(const PlannedPlace *place, double x, double turn)
{
    Stack stack = {.count = 0};
    for (uint32_t l = 0; l < place->layer_count; l++) {
        const PlannedLayer *layer = &place->layers[l];
        for (uint32_t r = 0; r < layer->run_count; r++) {
            const Run *run = &layer->runs[r];
            if (run->strands && x >= fmin(run->start, run->end) && x < fmax(run->start, run->end))
                stack_on(&stack, run->strands->items[0].thread);
        }
        if (layer->crosswrap)
            stack_crosswrap(&stack, layer->crosswrap, x, turn);
    }
    return stack;
}

static int same_stack(const Stack *one, const Stack *other)
{
    return one->count == other->count
           && !memcmp(one->threads, other->threads, (size_t)one->count * sizeof *one->threads);
}

static int print_stacks(const PlannedPlace *place, uint64_t state, long wanted, double near, double shown,
                        double facing)
{
    enum { ROUND = 48 };
    double low = fmin(place->start, place->start + place->direction * place->length), high = low + place->length;
    double round_way = TRADE_PI * 10; /* about: all is the same this far round the point, and farther */
    printf("%.9f %.9f\n", low, high);
    for (long i = 0; i < wanted; i++) {
        double x = low + near + (high - low - 2 * near) * random_part(&state);
        double off = shown * (2 * random_part(&state) - 1), turn = facing + off;
        double near_turn = near / round_way / (shown > 0.25 ? 1 : cos(2 * TRADE_PI * off));
        Stack middle = stack_at(place, x, turn);
        int plain = fabs(off) + near_turn < fmax(shown, 0.25);
        for (int j = 0; j < 2 * ROUND && plain; j++) {
            double angle = j * 2 * TRADE_PI / ROUND, part = j < ROUND ? 1 : 0.5;
            Stack round = stack_at(place, x + part * near * cos(angle), turn + part * near_turn * sin(angle));
            plain = same_stack(&round, &middle);
        }
        if (!plain)
            continue;
        printf("%.9f %.9f ", x, turn);
        for (int j = 0; j < middle.count; j++)
            printf("%s%s", j ? "," : "", middle.threads[j]->name->bytes);
        puts(middle.count ? "" : "-");
    }
    return 0;
}

int main(int count, char **words)
{
    if (count != 7 && !(count == 8 && !strcmp(words[7], "stack")))
        return 2;
    Compilation *compilation = compile(words[1]);
    uint64_t state = strtoull(words[2], NULL, 10);
    long wanted = atol(words[3]);
    double near = atof(words[4]), shown = atof(words[5]), facing = atof(words[6]) / 360;
    const PlannedPlace *place = &compilation->plan->rods[0].places[0];
    if (count == 8)
        return print_stacks(place, state, wanted, near, shown, facing);
    const PlannedCrosswrap *planned = place->layers[place->layer_count - 1].crosswrap;
    if (!planned)
        return 1;
    double low = fmin(planned->field_start, planned->field_end);
    double high = fmax(planned->field_start, planned->field_end);
    printf("%.9f %.9f\n", low, high);
    for (long i = 0; i < wanted; i++) {
        double x = low + near + (high - low - 2 * near) * random_part(&state);
        double off = shown * (2 * random_part(&state) - 1);
        double round_way = TRADE_PI * crosswrap_diameter(planned, x);
        double near_turn = near / round_way / (shown > 0.25 ? 1 : cos(2 * TRADE_PI * off));
        if (fabs(off) + near_turn < fmax(shown, 0.25) && is_plain(place, x, facing + off, near, near_turn)) {
            long colour = seen_at(place, x, facing + off).colour;
            printf(colour == NOTHING ? "%.9f %.9f -\n" : "%.9f %.9f %06lx\n", x, facing + off, colour);
        }
    }
    turnlay_free(compilation);
    return 0;
}
