/* Which of the lawful ways to piece a wrap costs least. Where a thread comes again after other bands, or after its
 * own inlay, it may be carried there beneath what lies between, at most bench { carry: } turns; or it is ended and
 * begins anew. A fade's new thread may begin from a spool, or on a bobbin. Every way winds the same turns. Nothing
 * is chosen where some tag or end would not be held (T401 to T403), and none of these ways has more for the
 * findings about ridges and long pieces (T404 to T406) to say than that in which nothing is chosen. Of those that
 * have least, bench { prefer: } says what comes first (piece_cost.c). A splice changes nothing of what is chosen:
 * what lies on the blank by then stays. */
#include "plan/piece_work.h"
#include "trade/colour.h"

#include <math.h>

/* Limits of the program's own, no numbers of the trade. So many places to choose at are tried in all ways, two to
 * their power. Of more, all that can be carried are, but for those that lie where something is wrong then, and
 * none where too much is; then bobbins are given out in working order, each where it makes the way cheaper. */
enum { MOST_IN_ALL_WAYS = 6, MOST_ROUNDS = 4, MOST_WRONG = 64, MOST_BOBBINS_TRIED = 16 };

/* A run that its thread may be carried to, or of which a new thread may begin from a spool. */
typedef struct Choice {
    uint32_t run;
    ChoiceKind kind;
    bool left_out;
} Choice;

typedef struct Choices {
    PieceWork *work;
    Choice *all;
    uint32_t count;   /* but for bobbins, */
    uint32_t bobbins; /* which come behind */
    uint32_t first_piece, first_winding;
    WrongTurns wrong; /* with the way tried last */
} Choices;

/* --- what may be carried --- */

static double lightness(const Thread *thread) { return lab_of_light(light_of(thread->colour)).lightness; }

/* What lies between may lie over the thread: no spacer, and nothing lighter through which it would show. */
static bool covers(const Run *run, const Thread *carried)
{
    bool covers = true;
    for (uint32_t i = 0; covers && i < run->strands->count; i++) {
        const Strand *strand = &run->strands->items[i];
        covers =
            !strand->spacer && (strand->thread->opacity >= 1 || lightness(strand->thread) <= lightness(carried));
    }
    return covers;
}

static bool covers_all(const Run *run, const Strands *carried)
{
    bool all = true;
    for (uint32_t i = 0; all && i < carried->count; i++)
        all = carried->items[i].spacer || covers(run, carried->items[i].thread);
    return all;
}

/* Threads side by side go on in bands alone, and no more than there are spools for. */
static bool may_be_together(const PieceWork *work, const Run *before, const Run *run)
{
    uint32_t holders = work->layout->job->bench.holders;
    bool single = before->strands->count == 1 && run->strands->count == 1;
    return single
           || (run->role == RUN_BAND && before->strands->count <= holders && run->strands->count <= holders);
}

/* Since it was last wound a band has ended it, or it was an inlay: without a choice it begins anew. */
static bool begins_anew(const PieceWork *work, uint32_t run)
{
    const RunUse *use = &work->uses[run];
    const Run *runs = work->planned->runs;
    bool inlay = runs[run].role == RUN_INLAY || runs[use->previous].role == RUN_INLAY;
    return inlay || use->bands - work->uses[use->previous + 1].bands > 0;
}

static bool may_go_on(const PieceWork *work, uint32_t run)
{
    const RunUse *use = &work->uses[run];
    if (use->previous == NO_RUN || use->previous + 1 == run || !begins_anew(work, run))
        return false;
    const Run *runs = work->planned->runs, *before = &runs[use->previous];
    uint64_t beneath = use->first_turn - work->uses[use->previous].first_turn - before->turns;
    bool may = (double)beneath <= work->layout->job->bench.carry && may_be_together(work, before, &runs[run]);
    for (uint32_t r = use->previous + 1; may && r < run; r++)
        may = covers_all(&runs[r], before->strands);
    return may;
}

/* A fade's new thread may begin from a spool where the band before it has turns enough to be cut from its own, and
 * no width is measured among the last of them. */
static bool may_take_over(const PieceWork *work, uint32_t run)
{
    const Run *runs = work->planned->runs;
    if (run == work->wrap.first_run || runs[run].role != RUN_FADE_IN || runs[run - 1].role != RUN_BAND)
        return false;
    uint64_t bind = (uint64_t)work->layout->job->bench.bind, last = runs[run - 1].turns;
    const Strands *old = runs[run - 1].strands, *new = runs[run].strands;
    bool plain = old->count == 1 && new->count == 1 && !old->items[0].spacer && !new->items[0].spacer;
    return plain && last > bind && last + turns_of_parts_before(work->planned, run - 1, bind) >= 2 * bind;
}

/* A thread that comes in by a fade, or by an inlay that is too long to be passed by hand. Several at once would
 * twist round each other: common practice, no source. What the wrap begins with would not be held. */
static bool may_be_on_bobbin(const PieceWork *work, uint32_t index)
{
    const Bench *bench = &work->layout->job->bench;
    const Run *run = &work->planned->runs[index];
    if (bench->bobbins == 0 || run->strands->count > 1 || run->strands->items[0].spacer || run->goes_on)
        return false;
    if (run->role == RUN_INLAY)
        return parts_to_come(work->planned, index).length + 2 * bench->bind * run->strands->pitch + 2 * bench->free
               > bench->hand;
    return run->role == RUN_FADE_IN && (work->uses[index].previous == NO_RUN || begins_anew(work, index));
}

/* An inlay that is too long to be passed by hand may come from a spool: the thread before it ends there, and
 * begins again behind it. */
static bool may_have_own_spool(const PieceWork *work, uint32_t index)
{
    const Run *run = &work->planned->runs[index];
    const Bench *bench = &work->layout->job->bench;
    if (run->role != RUN_INLAY || index == work->wrap.first_run || run->strands->count > bench->holders
        || run->goes_on)
        return false;
    double ends = 2 * bench->bind * run->strands->pitch + 2 * bench->free;
    return parts_to_come(work->planned, index).length + ends > bench->hand;
}

/* --- choosing --- */

static Cost try_this_way(Choices *choices)
{
    PieceWork *work = choices->work;
    work->rod->piece_count = choices->first_piece;
    work->rod->winding_count = choices->first_winding;
    lay_wrap_pieces(work);
    return wrap_cost(work, choices->first_piece, choices->first_winding, &choices->wrong);
}

static bool is_cheaper(const Choices *choices, Cost a, Cost b)
{
    return costs_less(choices->work->layout->job->bench.prefer, a, b);
}

static void choose_one(const Choices *choices, uint32_t choice, bool chosen)
{
    const Choice *each = &choices->all[choice];
    choices->work->uses[each->run].chosen[each->kind] = chosen;
}

static void choose(const Choices *choices, uint32_t way)
{
    for (uint32_t i = 0; i < choices->count; i++)
        choose_one(choices, i, way >> i & 1);
}

/* Gives what the way costs that is laid then. */
static Cost try_all_ways(Choices *choices)
{
    uint32_t best = 0, tried = 0;
    Cost least = try_this_way(choices);
    for (uint32_t way = 1; way < 1u << choices->count; way++) {
        choose(choices, way);
        Cost cost = try_this_way(choices);
        tried = way;
        if (is_cheaper(choices, cost, least)) {
            least = cost;
            best = way;
        }
    }
    choose(choices, best);
    if (tried != best)
        try_this_way(choices);
    return least;
}

/* Turns that have to do with a choice: from those before the piece that it is about to those of its run. */
static Wrong reach_of(const Choices *choices, uint32_t choice)
{
    const PieceWork *work = choices->work;
    uint32_t run = choices->all[choice].run;
    const RunUse *use = &work->uses[run];
    uint32_t first = choices->all[choice].kind == CHOICE_GOES_ON ? use->previous : run - 1;
    return (Wrong){work->uses[first].first_turn, use->first_turn + work->planned->runs[run].turns};
}

/* What has to do with something that is wrong is not chosen. Gives how many are left. */
static uint32_t choose_nothing_there(Choices *choices)
{
    uint32_t left = 0;
    for (uint32_t i = 0; i < choices->count; i++) {
        Wrong reach = reach_of(choices, i);
        bool wrong = false;
        for (uint32_t k = 0; k < choices->wrong.count && !wrong; k++)
            wrong = choices->wrong.items[k].to > reach.from && choices->wrong.items[k].from < reach.to;
        choices->all[i].left_out |= wrong;
        choose_one(choices, i, !choices->all[i].left_out);
        left += !choices->all[i].left_out;
    }
    return left;
}

/* All of these kinds are chosen, and what is wrong then is left out, if that helps. Gives what that costs; with
 * `unheld` where it does not help. */
static Cost choose_these(Choices *choices, unsigned kinds)
{
    Cost cost = {.faults = 1};
    for (uint32_t i = 0; i < choices->count; i++) {
        choices->all[i].left_out = !(kinds >> choices->all[i].kind & 1);
        choose_one(choices, i, !choices->all[i].left_out);
    }
    bool more = true;
    for (uint32_t round = 0; round < MOST_ROUNDS && more; round++) {
        cost = try_this_way(choices);
        more = cost.faults > 0 && cost.faults <= MOST_WRONG && choose_nothing_there(choices) > 0;
    }
    cost.unheld += more;
    return cost;
}

/* All that can be chosen is, or one kind of it, or nothing. */
static Cost choose_all_that_can_be(Choices *choices)
{
    unsigned found = 0, best = 0, last = 0;
    Cost least = try_this_way(choices);
    for (uint32_t i = 0; i < choices->count; i++)
        found |= 1u << choices->all[i].kind;
    for (unsigned kind = 0; kind <= CHOICE_KIND_COUNT; kind++) {
        unsigned kinds = kind == CHOICE_KIND_COUNT ? found : found & 1u << kind;
        if (!kinds || (kinds == found && kind < CHOICE_KIND_COUNT))
            continue;
        Cost cost = choose_these(choices, last = kinds);
        if (!is_cheaper(choices, cost, least))
            continue;
        least = cost;
        best = kinds;
    }
    if (best != last)
        choose_these(choices, best);
    return least;
}

/* One after the other, behind all other choices. */
static void give_out_bobbins(Choices *choices, Cost least)
{
    bool lies = true; /* the cheapest way is the one that was laid last */
    for (uint32_t i = 0; i < choices->bobbins && i < MOST_BOBBINS_TRIED; i++) {
        choose_one(choices, choices->count + i, true);
        Cost cost = try_this_way(choices);
        lies = is_cheaper(choices, cost, least);
        if (lies)
            least = cost;
        else
            choose_one(choices, choices->count + i, false);
    }
    if (!lies)
        try_this_way(choices);
}

static void add_choice(Choices *choices, uint32_t run, ChoiceKind kind)
{
    choices->all[choices->count++] = (Choice){.run = run, .kind = kind};
}

static void find_choices(Choices *choices)
{
    static bool (*const may[CHOICE_KIND_COUNT])(const PieceWork *,
                                                uint32_t) = {[CHOICE_GOES_ON] = may_go_on,
                                                             [CHOICE_TAKES_OVER] = may_take_over,
                                                             [CHOICE_OWN_SPOOL] = may_have_own_spool,
                                                             [CHOICE_BOBBIN] = may_be_on_bobbin};
    PieceWork *work = choices->work;
    for (uint32_t r = work->wrap.first_run; r < work->wrap.end_run; r++)
        for (ChoiceKind kind = 0; kind < CHOICE_BOBBIN; kind++)
            if (may[kind](work, r))
                add_choice(choices, r, kind);
    uint32_t others = choices->count;
    for (uint32_t r = work->wrap.first_run; r < work->wrap.end_run; r++)
        if (may[CHOICE_BOBBIN](work, r))
            add_choice(choices, r, CHOICE_BOBBIN);
    choices->bobbins = choices->count - others;
    if (choices->count > MOST_IN_ALL_WAYS)
        choices->count = others;
    else
        choices->bobbins = 0;
}

static void choose_as_written(PieceWork *work)
{
    arena_clear(work->choosing);
    Choices choices = {.work = work,
                       .first_piece = work->rod->piece_count,
                       .first_winding = work->rod->winding_count,
                       .all = arena_take_many(
                           work->choosing, CHOICE_KIND_COUNT * (size_t)(work->wrap.end_run - work->wrap.first_run),
                           sizeof(Choice))};
    find_choices(&choices);
    if (choices.count + choices.bobbins == 0) {
        lay_wrap_pieces(work);
        return;
    }
    Cost cost = choices.count <= MOST_IN_ALL_WAYS ? try_all_ways(&choices) : choose_all_that_can_be(&choices);
    give_out_bobbins(&choices, cost);
}

void choose_wrap_pieces(PieceWork *work)
{
    uint32_t first_piece = work->rod->piece_count, first_winding = work->rod->winding_count;
    work->spliced = false;
    choose_as_written(work);
    work->spliced = true;
    if (!wrap_is_spliced(work))
        return;
    work->rod->piece_count = first_piece;
    work->rod->winding_count = first_winding;
    lay_wrap_pieces(work);
}
