/* The way out of a fade that shows a line: threads of the file to fade through, and shades that are missing. */
#include "check/rules.h"

#include "base/buffer.h"
#include "plan/shades.h"
#include "trade/eye.h"
#include "trade/melting.h"

/* Ends and threads between them that a walk is looked for through: its search grows with the square of them. And
 * threads of the file of which each is looked at. */
enum { MOST_WALKED = 24, MOST_LOOKED_AT = 200 };
/* Turns of a fade by heart. */
enum { TURNS_BY_HEART = STEPS_BY_HEART * (STEPS_BY_HEART + 1) };

static bool same_declared(const Thread *one, const Thread *other) { return same_span(one->span, other->span); }

/* Threads that it could go through; false where there are too many to look at each. A thread that a rod changes is
 * none beside itself. */
static bool take_candidates(Arena *arena, const Job *job, ShadesTask *task)
{
    uint32_t count, uncoloured;
    const Thread *const *threads = threads_to_choose(arena, job, &count, &uncoloured);
    if (count > MOST_LOOKED_AT)
        return false;
    const Thread **candidates = arena_take_many(arena, count, sizeof *candidates);
    for (uint32_t i = 0; i < count; i++)
        if (!same_declared(threads[i], task->from) && !same_declared(threads[i], task->to))
            candidates[task->count++] = threads[i];
    task->threads = candidates;
    return true;
}

static const char *ending(uint32_t at, uint32_t count)
{
    return at + 1 == count ? "" : at + 2 == count ? " and " : ", ";
}

/* Leaves out of the walk what is not needed: each step goes as far as still melts. */
static void shorten_walk(Shades *shades)
{
    uint32_t kept = 0;
    for (uint32_t at = 0, next; at < shades->step_count; at = next) {
        ShadeStep step = shades->steps[at];
        for (next = shades->step_count; next > at + 1; next--)
            if (shades_melt(shades, step.from, shades->steps[next - 1].to))
                break;
        if (next > at + 1)
            step = (ShadeStep){.from = step.from, .to = shades->steps[next - 1].to, .melts = true};
        shades->steps[kept++] = step;
    }
    shades->step_count = kept;
}

/* "fade to straw first, which lies between". */
static void put_threads(Buffer *out, const Shades *shades)
{
    uint32_t count = shades->step_count - 1;
    buffer_text(out, "fade to ");
    for (uint32_t i = 0; i < count; i++)
        buffer_format(out, "%s%s", shades->shades[shades->steps[i].to].name, ending(i, count));
    buffer_format(out, " first, which %s between", count == 1 ? "lies" : "lie");
}

/* "a shade near #805a1f between peat and amber". */
static void put_missing(Buffer *out, const Shades *shades, const ShadeStep *step)
{
    uint32_t count = step->missing_count;
    buffer_text(out, !step->enough ? "more than 7 shades, one near "
                     : count == 1  ? "a shade near "
                                   : "shades near ");
    _Static_assert(MOST_MISSING == 7, "as it is said");
    for (uint32_t i = 0; i < count; i++)
        buffer_format(out, "#%06x%s", (unsigned)step->missing[i], ending(i, count));
    const Thread *from = shades->shades[step->from].thread, *to = shades->shades[step->to].thread;
    bool seen_through = from->opacity < 1 || to->opacity < 1;
    buffer_format(out, "%s%s between %s and %s", step->enough ? "" : " halfway",
                  !seen_through ? ""
                  : count == 1  ? " as it lies here"
                                : " as they lie here",
                  shades->shades[step->from].name, shades->shades[step->to].name);
}

static void put_all_missing(Buffer *out, const Shades *shades)
{
    const char *before = out->length ? ", and put " : "put ";
    for (uint32_t i = 0; i < shades->step_count; i++) {
        if (shades->steps[i].melts)
            continue;
        buffer_text(out, before);
        put_missing(out, shades, &shades->steps[i]);
        before = ", and ";
    }
}

static bool is_by_heart(const Item *fade)
{
    return !fade->by_eye && fade->fade_rule == FADE_STEPS && fade->steps == STEPS_BY_HEART;
}

/* Where the two melt by heart alone, that is the way. Of threads of two widths they may just not: then one shade
 * halfway is enough. */
static const char *way_of_two(Arena *arena, const Shades *shades, const PlannedItem *fade)
{
    if (!is_by_heart(fade->item))
        return text_format(arena, "fade in %u steps", STEPS_BY_HEART);
    return text_format(arena, "put a shade near #%06x between %s and %s", (unsigned)shade_halfway(shades),
                       shades->shades[0].name, shades->shades[1].name);
}

static uint32_t parts_of(const Shades *shades)
{
    uint32_t parts = shades->step_count;
    for (uint32_t i = 0; i < shades->step_count; i++)
        parts += shades->steps[i].missing_count;
    return parts;
}

static const char *way_through(Arena *arena, const Shades *shades, const PlannedItem *fade)
{
    uint32_t parts = parts_of(shades);
    if (parts == 1)
        return way_of_two(arena, shades, fade);
    Buffer out;
    buffer_start(&out, arena);
    if (shades->step_count > 1)
        put_threads(&out, shades);
    put_all_missing(&out, shades);
    if (fade->turns < parts * TURNS_BY_HEART)
        buffer_format(&out, ", and fade to each in %u steps", STEPS_BY_HEART);
    return buffer_string(&out);
}

static const char *way_by_the_verb(Arena *arena, const ShadesTask *task)
{
    return text_format(arena, "fade through the shades that `turnlay shades --between %s,%s` names",
                       task->from->name->bytes, task->to->name->bytes);
}

const char *shades_to_put(const Check *check, const FadeAt *at, bool by_name)
{
    const PlannedItem *fade = &at->place->layers[at->layer].items[at->item];
    Arena *arena = check->findings->words;
    Light ground = fade_ground(at);
    ShadesTask task = {.from = fade->from->items[0].thread,
                       .to = fade->to->items[0].thread,
                       .vision = VISION_ALL_CONES,
                       .alike = check->bench->alike,
                       .jump = check->bench->jump,
                       .blur = eye_blur(check->bench->sight, check->bench->far),
                       .ground = &ground};
    Shades shades;
    if (!by_name || !take_candidates(arena, check->plan->job, &task)
        || !shades_between(arena, &task, MOST_WALKED, &shades))
        return way_by_the_verb(arena, &task);
    shorten_walk(&shades);
    if (shades.step_count > MOST_MISSING + 1)
        return way_by_the_verb(arena, &task);
    return way_through(arena, &shades, fade);
}
