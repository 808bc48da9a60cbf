#include "draw/eye/profile.h"

#include "base/halfway.h"
#include "draw/picture/through.h"
#include "trade/eye.h"

#include <math.h>

/* Strands of a run, each in every turn, that are told apart. */
enum { MOST_STRIPES = 4000 };
/* mm that are left between two turns by rounding. */
#define SLIVER 1e-9

Light thread_light(const Thread *thread, bool bare)
{
    return light_of(bare && thread->has_bare ? thread->bare : thread->colour);
}

static void add_light(Light *light, double share, Light more)
{
    light->red += share * more.red;
    light->green += share * more.green;
    light->blue += share * more.blue;
}

/* So much of a turn is of this thread. */
static void add_strand(TurnCover *cover, const Strand *strand, double share, bool bare)
{
    double hides = strand->spacer ? 0 : share * strand->thread->opacity;
    cover->hides += hides;
    add_light(&cover->light, hides, thread_light(strand->thread, bare));
}

static void put_whole(Arena *arena, TurnCovers *covers, const Run *run, bool bare)
{
    TurnCover cover = {fmin(run->start, run->end), fmax(run->start, run->end), {0, 0, 0}, 0, run};
    for (uint32_t i = 0; i < run->strands->count; i++)
        add_strand(&cover, &run->strands->items[i], run->strands->items[i].thread->pitch / run->strands->pitch,
                   bare);
    *LIST_ADD(arena, &covers->list) = cover;
}

/* Strand by strand of every turn, from the end toward the butt on. */
static void put_stripes(Arena *arena, TurnCovers *covers, const Run *run, bool bare)
{
    const Strands *strands = run->strands;
    double turn = (run->end - run->start) / run->turns;
    bool rising = turn > 0;
    for (uint32_t t = 0; t < run->turns; t++) {
        double from = run->start + turn * (rising ? t : run->turns - 1 - t), at = rising ? 0 : 1;
        for (uint32_t i = 0; i < strands->count; i++) {
            const Strand *strand = &strands->items[rising ? i : strands->count - 1 - i];
            double part = strand->thread->pitch / strands->pitch, end = rising ? at + part : at - part;
            TurnCover cover = {from + turn * at, from + turn * end, {0, 0, 0}, 0, run};
            add_strand(&cover, strand, 1, bare);
            at = end;
            if (!strand->spacer)
                *LIST_ADD(arena, &covers->list) = cover;
        }
    }
}

TurnCovers layer_covers(Arena *arena, const PlannedPlace *place, uint32_t layer, bool bare)
{
    const PlannedLayer *planned = &place->layers[layer];
    TurnCovers covers = {{NULL, 0, 0}};
    for (uint32_t i = 0; i < planned->run_count; i++) {
        const Run *run = &planned->runs[place->direction > 0 ? i : planned->run_count - 1 - i];
        if (!run->strands || run->start == run->end)
            continue;
        uint64_t stripes = (uint64_t)run->turns * run->strands->count;
        if (run->strands->count > 1 && stripes <= MOST_STRIPES)
            put_stripes(arena, &covers, run, bare);
        else
            put_whole(arena, &covers, run, bare);
    }
    return covers;
}

const TurnCover *cover_at(const TurnCovers *covers, double x)
{
    uint32_t low = 0, high = covers->list.count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (covers->list.items[middle].to <= x)
            low = middle + 1;
        else
            high = middle;
    }
    bool there = low < covers->list.count && covers->list.items[low].from <= x;
    return there ? &covers->list.items[low] : NULL;
}

static void add_piece(Arena *arena, LightProfile *profile, LitPiece piece)
{
    LitPiece *last = profile->list.count ? &profile->list.items[profile->list.count - 1] : NULL;
    bool same = last && last->run == piece.run && same_light(last->light, piece.light);
    if (piece.from >= piece.to)
        return;
    if (last && (same || piece.to - piece.from < SLIVER))
        last->to = piece.to;
    else
        *LIST_ADD(arena, &profile->list) = piece;
}

void profile_lay(Arena *arena, LightProfile *profile, const TurnCovers *covers)
{
    LightProfile laid = {{NULL, 0, 0}};
    const LitPiece *next = profile->list.items;
    LitPiece rest = *next++;
    for (uint32_t i = 0; i < covers->list.count; i++) {
        const TurnCover *cover = &covers->list.items[i];
        for (; rest.to <= cover->from; rest = *next++)
            add_piece(arena, &laid, rest);
        LitPiece before = rest;
        before.to = cover->from;
        add_piece(arena, &laid, before);
        rest.from = fmax(rest.from, cover->from);
        while (rest.from < cover->to) {
            LitPiece under = {rest.from, fmin(rest.to, cover->to), cover->light, cover->run};
            add_light(&under.light, 1 - cover->hides, rest.light);
            add_piece(arena, &laid, under);
            rest.from = under.to;
            if (rest.from >= rest.to && isfinite(rest.to))
                rest = *next++;
        }
    }
    add_piece(arena, &laid, rest);
    for (; next < profile->list.items + profile->list.count; next++)
        add_piece(arena, &laid, *next);
    *profile = laid;
}

LightProfile profile_of_blank(Arena *arena, const Rod *rod, double low, double high)
{
    LightProfile profile = {{NULL, 0, 0}};
    add_piece(arena, &profile, (LitPiece){-INFINITY, INFINITY, light_of(rod->blank->colour), NULL});
    for (uint32_t i = 0; i < bare_span_count(rod); i++) {
        BareSpan span = bare_span(rod, i);
        TurnCovers covers = {{NULL, 0, 0}};
        if (span.low >= span.high || span.low >= high || span.high <= low)
            continue;
        *LIST_ADD(arena, &covers.list) = (TurnCover){span.low, span.high, light_of(span.colour), 1, NULL};
        profile_lay(arena, &profile, &covers);
    }
    return profile;
}

static void lay_place(Arena *arena, LightProfile *profile, const PlannedPlace *place, bool bare)
{
    for (uint32_t i = 0; i < place->layer_count; i++) {
        TurnCovers covers = layer_covers(arena, place, i, bare);
        profile_lay(arena, profile, &covers);
    }
}

/* What the place lies on. */
static void lay_hosts(Arena *arena, LightProfile *profile, const PlannedPlace *place, bool bare)
{
    if (!place->host)
        return;
    lay_hosts(arena, profile, place->host, bare);
    lay_place(arena, profile, place->host, bare);
}

LightProfile profile_of_places(Arena *arena, const Rod *rod, const PlannedPlace *places, uint32_t count,
                               double low, double high, bool bare)
{
    LightProfile profile = profile_of_blank(arena, rod, low, high);
    lay_hosts(arena, &profile, &places[0], bare);
    for (uint32_t i = 0; i < count; i++)
        lay_place(arena, &profile, &places[i], bare);
    return profile;
}

uint32_t profile_at(const LightProfile *profile, double x)
{
    uint32_t low = 0, high = profile->list.count - 1;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (profile->list.items[middle].to <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

Light profile_seen(const LightProfile *profile, double blur, double x)
{
    Light seen = {0, 0, 0};
    double end = x + SEEN_WITHIN * blur;
    for (uint32_t i = profile_at(profile, x - SEEN_WITHIN * blur); i < profile->list.count; i++) {
        const LitPiece *piece = &profile->list.items[i];
        if (piece->from >= end)
            break;
        add_light(&seen, eye_share(blur, x, piece->from, piece->to), piece->light);
    }
    return seen;
}
