#include "plan/shades.h"

#include "base/limits.h"
#include "base/sort.h"
#include "plan/shade_walk.h"
#include "plan/thread_patterns.h"

#include <math.h>
#include <stdlib.h>

/* CIEDE2000 divides a difference in lightness by its weight SL, which is at most 1 + 0.015 50^2 / sqrt(20 + 50^2),
 * and adds nothing negative: no two shades differ by less than this share of their lightness. */
#define LEAST_OF_LIGHTNESS (1 / 1.747018)

/* A path of mixtures as the eyes that are asked for see it. */
typedef struct SeenPath {
    const MixPath *path;
    Lab at[MIX_CHORDS + 1];
} SeenPath;

static Lab seen_by(Vision vision, Light light) { return lab_of_light(light_seen(vision, light)); }

static Light light_of_thread(const ShadesTask *task, const Thread *thread)
{
    Light own = light_of(thread->colour);
    return task->ground ? light_over(own, thread->opacity, *task->ground) : own;
}

static MixPath path_between(const ShadesTask *task, const Thread *from, const Thread *to)
{
    return mix_path(light_seen(task->vision, light_of_thread(task, from)),
                    light_seen(task->vision, light_of_thread(task, to)));
}

static void see_path(SeenPath *seen, const MixPath *path)
{
    seen->path = path;
    for (int i = 0; i <= MIX_CHORDS; i++)
        seen->at[i] = lab_of_light(mixed_light(path, path->shares[i]));
}

/* How far along the chord between two colours its point nearest to a third lies, 0 to 1. */
static double along_chord(Lab from, Lab to, Lab colour)
{
    double lightness = to.lightness - from.lightness, a = to.a - from.a, b = to.b - from.b;
    double square = lightness * lightness + a * a + b * b;
    double dot =
        lightness * (colour.lightness - from.lightness) + a * (colour.a - from.a) + b * (colour.b - from.b);
    return square > 0 ? fmin(fmax(dot / square, 0), 1) : 0;
}

static Lab on_chord(Lab from, Lab to, double share)
{
    return (Lab){from.lightness + share * (to.lightness - from.lightness), from.a + share * (to.a - from.a),
                 from.b + share * (to.b - from.b)};
}

static ThreadShade shade_of(const ShadesTask *task, const Thread *thread)
{
    return (ThreadShade){.thread = thread,
                         .name = task->names ? task->names[thread->index] : thread->name->bytes,
                         .seen = seen_by(task->vision, light_of_thread(task, thread)),
                         .position = NAN,
                         .aside = NAN};
}

/* The next that may be nearer than the nearest so far: no point of the path is nearer to a shade than another is
 * by more than lies between them on the path. */
static int next_chord(const SeenPath *seen, int chord, const ThreadShade *shade)
{
    const double *positions = seen->path->positions;
    double clear = (lab_distance(seen->at[++chord], shade->seen) - shade->aside) / seen->path->length;
    while (chord < MIX_CHORDS && positions[chord + 1] - positions[chord] < clear) {
        clear -= positions[chord + 1] - positions[chord];
        chord++;
    }
    return chord;
}

/* Sets the shade's place beside the path, and gives the mixture that lies there. */
static Lab place_shade(ThreadShade *shade, const SeenPath *seen)
{
    const double *positions = seen->path->positions;
    Lab place = seen->at[0];
    shade->aside = INFINITY;
    for (int i = 0; i < MIX_CHORDS; i = next_chord(seen, i, shade)) {
        double share = along_chord(seen->at[i], seen->at[i + 1], shade->seen);
        Lab here = on_chord(seen->at[i], seen->at[i + 1], share);
        double aside = lab_distance(here, shade->seen);
        if (aside >= shade->aside)
            continue;
        shade->aside = aside;
        shade->position = positions[i] + share * (positions[i + 1] - positions[i]);
        place = here;
    }
    return place;
}

/* From both ends of the path. */
static bool is_told_apart(const SeenPath *seen, Lab colour, double alike)
{
    return ciede2000(seen->at[0], colour) >= alike && ciede2000(colour, seen->at[MIX_CHORDS]) >= alike;
}

/* Sets its place beside the path, too. */
static bool lies_between(ThreadShade *shade, const SeenPath *seen, double alike)
{
    Lab place = place_shade(shade, seen);
    return shade->position > 0 && shade->position < 1 && shade->aside <= ASIDE_SHARE * seen->path->length
           && is_told_apart(seen, shade->seen, alike) && is_told_apart(seen, place, alike);
}

/* Whether it can lie between: beside the path no farther than ASIDE_SHARE, it is as near to both ends together. */
static bool is_near(const ThreadShade *shade, Lab from, Lab to, double length)
{
    return lab_distance(from, shade->seen) + lab_distance(shade->seen, to)
           <= (1 + 2 * ASIDE_SHARE) * length + 1e-9;
}

/* As they lie; of two at one position the one declared first. */
static int compare_positions(const void *a, const void *b)
{
    const ThreadShade *first = a, *second = b;
    int order = ORDER(first->position, second->position);
    return order ? order : ORDER(first->thread->index, second->thread->index);
}

static ThreadShade end_of_path(const ShadesTask *task, const Thread *thread, double position)
{
    ThreadShade end = shade_of(task, thread);
    end.position = position;
    end.aside = 0;
    return end;
}

static void take_between(Arena *arena, Shades *shades)
{
    const ShadesTask *task = &shades->task;
    ThreadShade first = end_of_path(task, task->from, 0), last = end_of_path(task, task->to, 1);
    MixPath path = path_between(task, task->from, task->to);
    SeenPath seen = {.path = NULL};
    shades->path = arena_copy(arena, &path, sizeof path);
    shades->difference = ciede2000(first.seen, last.seen);
    LIST_OF(ThreadShade) found = {0};
    *LIST_ADD(arena, &found) = first;
    for (uint32_t i = 0; i < task->count; i++) {
        ThreadShade shade = shade_of(task, task->threads[i]);
        if (shade.thread == task->from || shade.thread == task->to
            || !is_near(&shade, first.seen, last.seen, path.length))
            continue;
        if (!seen.path)
            see_path(&seen, shades->path);
        if (lies_between(&shade, &seen, task->alike))
            *LIST_ADD(arena, &found) = shade;
    }
    *LIST_ADD(arena, &found) = last;
    qsort(found.items + 1, found.count - 2, sizeof *found.items, compare_positions);
    shades->shades = found.items;
    shades->count = found.count;
}

static void take_all(Arena *arena, Shades *shades)
{
    const ShadesTask *task = &shades->task;
    shades->count = task->count;
    shades->shades = arena_take_many(arena, task->count, sizeof *shades->shades);
    for (uint32_t i = 0; i < task->count; i++)
        shades->shades[i] = shade_of(task, task->threads[i]);
}

/* --- the walk, and what is missing on it --- */

static double blur_in_turns(const Shades *shades, const ShadeStep *step)
{
    const Thread *from = shades->shades[step->from].thread, *to = shades->shades[step->to].thread;
    return shades->task.blur / ((from->pitch + to->pitch) / 2);
}

typedef struct TwoLights {
    Light from, to;
} TwoLights;

static TwoLights lights_of(const ShadesTask *task, const Thread *from, const Thread *to)
{
    return (TwoLights){light_of_thread(task, from), light_of_thread(task, to)};
}

/* The mixture of the two so far along their path as it is seen. */
static Light mixture_along(const TwoLights *lights, const MixPath *seen, double position)
{
    return light_over(lights->to, mix_share(seen, position), lights->from);
}

/* Whether the path between the two, cut into so many parts, melts in each. */
static bool parts_melt(const Shades *shades, const ShadeStep *step, const TwoLights *lights, const MixPath *seen,
                       uint32_t parts)
{
    const ShadesTask *task = &shades->task;
    for (uint32_t i = 0; i < parts; i++) {
        Light from = mixture_along(lights, seen, (double)i / parts);
        Light to = mixture_along(lights, seen, (double)(i + 1) / parts);
        if (melting_jump(from, to, task->vision, STEPS_BY_HEART, blur_in_turns(shades, step)) > task->jump)
            return false;
    }
    return true;
}

static void name_missing(const Shades *shades, ShadeStep *step)
{
    const Thread *from = shades->shades[step->from].thread, *to = shades->shades[step->to].thread;
    TwoLights lights = lights_of(&shades->task, from, to);
    bool whole = from == shades->task.from && to == shades->task.to;
    MixPath seen = whole ? *shades->path : path_between(&shades->task, from, to);
    uint32_t parts = 2;
    while (parts <= MOST_MISSING + 1 && !parts_melt(shades, step, &lights, &seen, parts))
        parts++;
    step->enough = parts <= MOST_MISSING + 1;
    parts = step->enough ? parts : 2;
    step->missing_count = parts - 1;
    for (uint32_t i = 1; i < parts; i++)
        step->missing[i - 1] = colour_of(mixture_along(&lights, &seen, (double)i / parts));
}

static double step_jump(const Shades *shades, const ShadeStep *step)
{
    TwoLights lights =
        lights_of(&shades->task, shades->shades[step->from].thread, shades->shades[step->to].thread);
    return melting_jump(lights.from, lights.to, shades->task.vision, STEPS_BY_HEART, blur_in_turns(shades, step));
}

static void look_at_step(const Shades *shades, ShadeStep *step)
{
    step->difference = ciede2000(shades->shades[step->from].seen, shades->shades[step->to].seen);
    step->jump = step_jump(shades, step);
    step->melts = step->jump <= shades->task.jump;
    step->enough = true;
    if (!step->melts)
        name_missing(shades, step);
}

static void walk(Arena *arena, Shades *shades)
{
    uint32_t count = shades->count, *way = arena_take_many(arena, count, sizeof *way);
    Lab *seen = arena_take_many(arena, count, sizeof *seen);
    for (uint32_t i = 0; i < count; i++)
        seen[i] = shades->shades[i].seen;
    shades->step_count = smoothest_walk(arena, seen, count, shades->task.alike, way) - 1;
    shades->steps = arena_take_many(arena, shades->step_count, sizeof *shades->steps);
    for (uint32_t i = 0; i < shades->step_count; i++) {
        shades->steps[i].from = way[i];
        shades->steps[i].to = way[i + 1];
        look_at_step(shades, &shades->steps[i]);
    }
}

/* --- which differ least, and which would be mistaken --- */

static void note_nearest(ThreadShade *shade, uint32_t other, double difference)
{
    if (difference >= shade->difference)
        return;
    shade->nearest = other;
    shade->difference = difference;
}

/* What two threads differ by to each of the eyes that count: all, or those that are asked for. */
static ShadePair look_at_pair(const ShadesTask *task, const Lab *const *seen, uint32_t first, uint32_t second)
{
    ShadePair pair = {first, second, INFINITY, 0};
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        if (task->vision != VISION_ALL_CONES && task->vision != (Vision)vision)
            continue;
        Lab one = seen[vision][first], other = seen[vision][second];
        if (fabs(one.lightness - other.lightness) * LEAST_OF_LIGHTNESS >= MISTAKABLE)
            continue;
        double difference = ciede2000(one, other);
        if (difference < MISTAKABLE)
            pair.visions |= 1u << vision;
        pair.difference = fmin(pair.difference, difference);
    }
    return pair;
}

static int compare_pairs(const void *a, const void *b)
{
    const ShadePair *one = a, *other = b;
    int order = ORDER(one->difference, other->difference);
    order = order ? order : ORDER(one->first, other->first);
    return order ? order : ORDER(one->second, other->second);
}

static void choose_patterns(Arena *arena, Shades *shades)
{
    MistakablePairs pairs = {arena_take_many(arena, shades->pair_count, sizeof *pairs.pairs), shades->pair_count};
    for (uint32_t i = 0; i < pairs.count; i++)
        pairs.pairs[i] = (Mistakable){shades->pairs[i].first, shades->pairs[i].second};
    const unsigned *patterns = patterns_chosen(arena, &pairs, shades->count);
    for (uint32_t i = 0; i < shades->count; i++)
        shades->shades[i].pattern = patterns[i];
}

static void compare_all(Arena *arena, Shades *shades)
{
    const ShadesTask *task = &shades->task;
    Lab *seen[VISION_COUNT];
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        seen[vision] = arena_take_many(arena, shades->count, sizeof **seen);
        for (uint32_t i = 0; i < shades->count; i++)
            seen[vision][i] = seen_by((Vision)vision, light_of_thread(task, shades->shades[i].thread));
    }
    for (uint32_t i = 0; i < shades->count; i++) {
        shades->shades[i].nearest = NO_SHADE;
        shades->shades[i].difference = INFINITY;
    }
    LIST_OF(ShadePair) pairs = {0};
    for (uint32_t first = 0; first < shades->count; first++)
        for (uint32_t second = first + 1; second < shades->count; second++) {
            ThreadShade *one = &shades->shades[first], *other = &shades->shades[second];
            double least = fabs(one->seen.lightness - other->seen.lightness) * LEAST_OF_LIGHTNESS;
            if (least < one->difference || least < other->difference) {
                double difference = ciede2000(one->seen, other->seen);
                note_nearest(one, second, difference);
                note_nearest(other, first, difference);
            }
            ShadePair pair = look_at_pair(task, (const Lab *const *)seen, first, second);
            if (pair.visions)
                *LIST_ADD(arena, &pairs) = pair;
        }
    shades->pairs = pairs.items;
    shades->pair_count = pairs.count;
    choose_patterns(arena, shades); /* by first and second, as they come */
    if (pairs.count)
        qsort(pairs.items, pairs.count, sizeof *pairs.items, compare_pairs);
    shades->pair_count = pairs.count < LIMIT_SHADE_PAIRS ? pairs.count : LIMIT_SHADE_PAIRS;
    shades->pairs_left_out = pairs.count - shades->pair_count;
}

bool shades_between(Arena *arena, const ShadesTask *task, uint32_t most, Shades *shades)
{
    *shades = (Shades){.task = *task};
    take_between(arena, shades);
    if (shades->count > most)
        return false;
    walk(arena, shades);
    return true;
}

static bool all_of_them(Arena *arena, const ShadesTask *task, Shades *shades)
{
    *shades = (Shades){.task = *task};
    take_all(arena, shades);
    return shades->count <= LIMIT_SHADES;
}

Shades *shades_make(Arena *arena, const ShadesTask *task)
{
    Shades *shades = arena_take(arena, sizeof *shades);
    bool fits = task->from ? shades_between(arena, task, LIMIT_SHADES, shades) : all_of_them(arena, task, shades);
    if (!fits)
        trap_beyond(arena->trap, BEYOND_SHADES);
    compare_all(arena, shades);
    return shades;
}

bool shades_melt(const Shades *shades, uint32_t first, uint32_t second)
{
    ShadeStep step = {.from = first, .to = second};
    return step_jump(shades, &step) <= shades->task.jump;
}

uint32_t shade_halfway(const Shades *shades)
{
    TwoLights lights = lights_of(&shades->task, shades->task.from, shades->task.to);
    return colour_of(mixture_along(&lights, shades->path, 0.5));
}

const Thread *const *threads_to_choose(Arena *arena, const Job *job, uint32_t *count, uint32_t *uncoloured)
{
    const Thread **threads = arena_take_many(arena, job->thread_count, sizeof *threads);
    *count = *uncoloured = 0;
    for (uint32_t i = 0; i < job->thread_count; i++) {
        const Thread *thread = job->threads[i], *before = i ? job->threads[i - 1] : NULL;
        if (before && same_span(before->span, thread->span))
            continue;
        if (thread->coloured)
            threads[(*count)++] = thread;
        else
            ++*uncoloured;
    }
    return threads;
}
