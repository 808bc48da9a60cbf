#include "plan/evenness.h"

#include "plan/look.h"
#include "trade/eye.h"
#include "trade/mixing.h"

#include <math.h>

/* In blurs: what lies further away is left out; and turns closer together than this need not all be looked at. */
static const double REACH = 6, FINE = 1.0 / 16;

/* A walk along a fade from the turn before it to the one behind it. Lengths in mm from the fade's start, in
 * working order. */
typedef struct FadeWalk {
    const Run *runs;
    uint32_t run_count, turns;
    double start, blur;
    int direction;
    uint32_t stride; /* every so many turns two side by side are looked at */
    const Strands *from, *to;
    Light old_light, new_light;
    uint32_t turn, done,
        run;             /* the turn that is looked at; the turns of all runs before `run`, in which it lies */
    uint32_t first_near; /* runs before this one lie out of reach */
} FadeWalk;

static double along(const FadeWalk *walk, double x) { return (x - walk->start) * walk->direction; }
static double width_of(const FadeWalk *walk) { return along(walk, walk->runs[walk->run_count - 1].end); }

static const PlannedItem *item_at(const FadeAt *at) { return &at->place->layers[at->layer].items[at->item]; }

Light fade_ground(const FadeAt *at)
{
    const PlannedItem *item = item_at(at);
    const Run *first = &at->place->layers[at->layer].runs[item->first_run];
    return look_at(at->rod, at->place, at->layer, first->start + at->place->direction * item->obtained / 2);
}

FadeShades fade_shades(const FadeAt *at)
{
    const PlannedItem *item = item_at(at);
    Light ground = fade_ground(at);
    return (FadeShades){strands_over(item->from, ground), strands_over(item->to, ground)};
}

static bool are_coloured(const Strands *strands)
{
    for (uint32_t i = 0; i < strands->count; i++)
        if (!strands->items[i].thread->coloured)
            return false;
    return true;
}

bool fade_is_seen(const PlannedItem *item)
{
    return item->from && item->to && item->run_count > 0 && are_coloured(item->from) && are_coloured(item->to);
}

static FadeWalk walk_of(const FadeAt *at)
{
    const PlannedLayer *layer = &at->place->layers[at->layer];
    const PlannedItem *item = &layer->items[at->item];
    FadeWalk walk = {.runs = layer->runs + item->first_run,
                     .run_count = item->run_count,
                     .turns = item->turns,
                     .blur = eye_blur(at->bench->sight, at->bench->far),
                     .direction = at->place->direction,
                     .from = item->from,
                     .to = item->to};
    if (!walk.turns)
        return walk;
    walk.start = walk.runs[0].start;
    FadeShades shades = fade_shades(at);
    walk.old_light = shades.from;
    walk.new_light = shades.to;
    double fine = floor(walk.blur * FINE * walk.turns / width_of(&walk));
    walk.stride = fine > 1 ? (uint32_t)fmin(fine, walk.turns) : 1;
    return walk;
}

/* What a turn takes just before the fade, and just behind it: as much as in the next run of that shade, which the
 * plan may know better than what was declared. */
static double pitch_before(const FadeWalk *walk)
{
    for (uint32_t r = 0; r < walk->run_count; r++)
        if (walk->runs[r].role == RUN_FADE_OUT)
            return walk->runs[r].pitch;
    return walk->from->pitch;
}

static double pitch_behind(const FadeWalk *walk)
{
    for (uint32_t r = walk->run_count; r-- > 0;)
        if (walk->runs[r].role == RUN_FADE_IN)
            return walk->runs[r].pitch;
    return walk->to->pitch;
}

/* Where the middle of the turn lies. */
static double middle_of(const FadeWalk *walk)
{
    if (walk->turn == 0)
        return -pitch_before(walk) / 2;
    if (walk->turn > walk->turns)
        return width_of(walk) + pitch_behind(walk) / 2;
    const Run *run = &walk->runs[walk->run];
    double start = along(walk, run->start), end = along(walk, run->end);
    return start + (walk->turn - walk->done - 0.5) * (end - start) / run->turns;
}

/* How much of what is seen there is the new shade. */
static double new_share(FadeWalk *walk, double w)
{
    double reach = REACH * walk->blur;
    while (walk->first_near < walk->run_count && along(walk, walk->runs[walk->first_near].end) < w - reach)
        walk->first_near++;
    double share = eye_share(walk->blur, w, width_of(walk), INFINITY);
    for (uint32_t r = walk->first_near; r < walk->run_count; r++) {
        double start = along(walk, walk->runs[r].start);
        if (start > w + reach)
            break;
        if (walk->runs[r].role == RUN_FADE_IN)
            share += eye_share(walk->blur, w, start, along(walk, walk->runs[r].end));
    }
    return fmin(fmax(share, 0), 1);
}

/* Of the run in which turn `walk->turn` lies: the last of the turns that look the same, since neither of the run's
 * ends is within reach of them; or that turn itself. */
static uint32_t last_alike(const FadeWalk *walk)
{
    const Run *run = &walk->runs[walk->run];
    double reach = REACH * walk->blur, turn = fabs(run->end - run->start) / run->turns;
    double from_start = (walk->turn - walk->done - 0.5) * turn, beyond = floor(reach / turn + 0.5) + 1;
    double last = walk->done + run->turns - beyond;
    return from_start > reach && last > walk->turn ? (uint32_t)last : walk->turn;
}

/* Goes on to the next turn that is looked at; false behind the last. */
static bool next_turn(FadeWalk *walk)
{
    uint32_t turn = walk->turn, next = turn + 1;
    if (turn > walk->turns)
        return false;
    if (turn < walk->turns) {
        uint32_t alike = turn > 0 ? last_alike(walk) : 0;
        next = walk->stride > 1 && turn % walk->stride == 1 ? turn + walk->stride - 1 : next;
        next = alike > next ? alike : next;
        next = next > walk->turns ? walk->turns : next;
    }
    walk->turn = next;
    while (walk->run < walk->run_count - 1 && walk->turn > walk->done + walk->runs[walk->run].turns)
        walk->done += walk->runs[walk->run++].turns;
    return true;
}

static Light light_at(const FadeWalk *walk, double share, Vision vision)
{
    return light_seen(vision, light_over(walk->new_light, share, walk->old_light));
}

/* Two runs side by side are stripes, as many as there are in it: the first of the fade's steps beside the last of
 * the one before it as well, so that a fade looks the same from both ends. */
static double stripes_of(const FadeWalk *walk, Vision vision, double near)
{
    double one = xyz_of(light_at(walk, 1, vision)).y, other = xyz_of(light_at(walk, 0, vision)).y;
    double most = 0, before = 0, width = 0;
    for (uint32_t r = 0; r < walk->run_count; r++) {
        const Run *run = &walk->runs[r];
        if (r && run->role != run[-1].role) {
            before = width;
            width = 0;
        }
        width += fabs(run->end - run->start);
        bool last = r + 1 == walk->run_count || run[1].role != run->role;
        if (!last)
            continue;
        double share = (run->role == RUN_FADE_IN ? width : before) / (before + width);
        most = fmax(most, stripes_visible(one, other, share, before + width, near));
    }
    return most;
}

/* The turn that the walk is at, and its colour; without a path its position is the share of the new shade. */
static SeenTurn seen_turn(FadeWalk *walk, Vision vision, const MixPath *path, Lab *lab)
{
    double w = middle_of(walk), share = new_share(walk, w);
    bool inside = walk->turn >= 1 && walk->turn <= walk->turns;
    SeenTurn seen = {.turn = walk->turn,
                     .x = walk->start + walk->direction * w,
                     .light = light_at(walk, share, vision),
                     .position = path ? mix_position(path, share) : share,
                     .even = inside ? w / width_of(walk) : NAN};
    *lab = lab_of_light(seen.light);
    seen.lightness = lab->lightness;
    return seen;
}

/* Without a path only what is seen from turn to turn. */
static FadeLook look_along(FadeWalk *walk, Vision vision, const MixPath *path)
{
    FadeLook look = {
        .difference = ciede2000(lab_of_light(light_at(walk, 0, vision)), lab_of_light(light_at(walk, 1, vision)))};
    SeenTurn seen, before = {0};
    Lab lab, lab_before = {0, 0, 0};
    do {
        seen = seen_turn(walk, vision, path, &lab);
        bool beside = seen.turn > 0 && seen.turn == before.turn + 1 && look.difference > 0;
        double jump = beside ? ciede2000(lab_before, lab) : 0;
        if (jump > look.jump) {
            look.jump = jump;
            look.jump_turn = before.turn;
        }
        double off = path && !isnan(seen.even) ? fabs(seen.position - seen.even) : 0;
        if (off > look.departure) {
            look.departure = off;
            look.departure_turn = seen.turn;
        }
        before = seen;
        lab_before = lab;
    } while (next_turn(walk));
    return look;
}

/* Between the two shades as that eye sees them. */
static MixPath path_of(const FadeWalk *walk, Vision vision)
{
    return mix_path(light_at(walk, 0, vision), light_at(walk, 1, vision));
}

FadeLook fade_look(const FadeAt *at, Vision vision)
{
    FadeWalk walk = walk_of(at);
    if (!walk.turns)
        return (FadeLook){0};
    MixPath path = path_of(&walk, vision);
    FadeLook look = look_along(&walk, vision, &path);
    look.stripes = stripes_of(&walk, vision, at->bench->near);
    return look;
}

FadeLook fade_jump(const FadeAt *at, Vision vision)
{
    FadeWalk walk = walk_of(at);
    return walk.turns ? look_along(&walk, vision, NULL) : (FadeLook){0};
}

FadeCourse fade_course(Arena *arena, const FadeAt *at, Vision vision)
{
    FadeWalk walk = walk_of(at);
    LIST_OF(SeenTurn) turns = {0};
    if (walk.turns) {
        MixPath path = path_of(&walk, vision);
        Lab lab;
        do {
            SeenTurn *turn = LIST_ADD(arena, &turns);
            *turn = seen_turn(&walk, vision, &path, &lab);
            turn->even_lightness =
                isnan(turn->even) ? NAN : lab_of_light(mixed_light(&path, mix_share(&path, turn->even))).lightness;
        } while (next_turn(&walk));
    }
    return (FadeCourse){turns.items, turns.count};
}
