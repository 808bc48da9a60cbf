#include "meaning/swap.h"

#include "meaning/mend.h"

/* A declaration in the rod that is being made. */
struct Standing {
    Declaration *of;
    Swap *swap;          /* what stands in its place; NULL: itself, */
    Declaration changed; /* a copy of it that is evaluated anew */
    bool begun;
    bool rests; /* its value rests on something that is swapped */
};

Swaps *swaps_new(Arena *arena, Swaps *outer, const char *title)
{
    Swaps *swaps = arena_take(arena, sizeof *swaps);
    *swaps = (Swaps){.outer = outer, .title = title, .mask = 1};
    swaps->places = arena_take_many(arena, swaps->mask + 1, sizeof *swaps->places);
    return swaps;
}

/* Where it stands, or would stand: then NULL is there. */
static Standing **place_of(const Swaps *swaps, const Declaration *declaration)
{
    uint64_t hash = hash_word(HASH_START, (uintptr_t)declaration);
    uint32_t at = (uint32_t)hash & swaps->mask;
    while (swaps->places[at] && swaps->places[at]->of != declaration)
        at = (at + 1) & swaps->mask;
    return &swaps->places[at];
}

static void make_room(Arena *arena, Swaps *swaps)
{
    if (2 * swaps->count <= swaps->mask)
        return;
    Standing **old = swaps->places;
    uint32_t count = swaps->mask + 1;
    swaps->mask = 2 * count - 1;
    swaps->places = arena_take_many(arena, 2 * (size_t)count, sizeof *swaps->places);
    for (uint32_t i = 0; i < count; i++)
        if (old[i])
            *place_of(swaps, old[i]->of) = old[i];
}

static Standing *standing_of(Arena *arena, Swaps *swaps, Declaration *declaration)
{
    make_room(arena, swaps);
    Standing **place = place_of(swaps, declaration);
    if (!*place) {
        *place = arena_take(arena, sizeof **place);
        (*place)->of = declaration;
        swaps->count++;
    }
    return *place;
}

bool swaps_add(Arena *arena, Swaps *swaps, Swap swap)
{
    Standing *standing = standing_of(arena, swaps, swap.of);
    if (standing->swap)
        return false;
    *LIST_ADD(arena, &swaps->list) = standing->swap = arena_copy(arena, &swap, sizeof swap);
    return true;
}

/* The nearest rod's swap counts: what it puts in is said in the words of the next. */
static Swap *swap_of(const Swaps *swaps, const Declaration *declaration)
{
    for (; swaps; swaps = swaps->outer) {
        const Standing *standing = *place_of(swaps, declaration);
        if (standing && standing->swap)
            return standing->swap;
    }
    return NULL;
}

/* What shows or counts of a thread, and where it is declared; also what lies between the fields. */
static void take_essence(Thread *essence, const Thread *thread)
{
    memcpy(essence, thread, sizeof *essence);
    essence->colours = NULL;
}

static uint64_t hash_of_thread(const Thread *thread)
{
    Thread essence;
    take_essence(&essence, thread);
    uint64_t hash = hash_words(HASH_START, (const char *)&essence, sizeof essence);
    for (uint32_t i = 0; i < thread->colour_count; i++)
        hash = hash_word(hash, thread->colours[i]);
    return hash;
}

/* Equal in all that shows or counts: then they are one spool. */
static bool is_same_thread(const Thread *one, const Thread *other)
{
    Thread left, right;
    take_essence(&left, one);
    take_essence(&right, other);
    if (memcmp(&left, &right, sizeof left) != 0)
        return false;
    for (uint32_t i = 0; i < one->colour_count; i++)
        if (one->colours[i] != other->colours[i])
            return false;
    return true;
}

/* The thread, or the one like it that another rod has made of the same declaration. */
static const Thread *keep_changed(Evaluator *evaluator, Declaration *of, const Thread *thread)
{
    uint64_t hash = hash_of_thread(thread);
    if (!evaluate_steps(evaluator, evaluator->changed.count, thread->span))
        return thread;
    for (uint32_t i = 0; i < evaluator->changed.count; i++) {
        const ChangedThread *other = &evaluator->changed.items[i];
        if (other->hash == hash && is_same_thread(thread, other->thread))
            return other->thread;
    }
    const char *title = evaluator->swaps ? evaluator->swaps->title : NULL;
    *LIST_ADD(evaluator->arena, &evaluator->changed) = (ChangedThread){(Thread *)thread, of, title, hash};
    return thread;
}

/* Evaluates it anew. What comes of it is its own value where nothing that is swapped was met on the way. */
static void work_out(Evaluator *evaluator, Standing *standing)
{
    Declaration *copy = &standing->changed;
    *copy = *standing->of;
    standing->begun = true;
    bool broken = copy->node->kind == NODE_LET && copy->value && ((const Value *)copy->value)->type == TYPE_BROKEN;
    if (!copy->value || broken) /* told where it is declared */
        return;
    bool rested = evaluator->rests;
    evaluator->rests = false;
    copy->valued = UNSEEN;
    own_value(evaluator, copy);
    standing->rests = evaluator->rests;
    if (!standing->rests)
        *copy = *standing->of;
    else if (copy->node->kind == NODE_THREAD && copy->value)
        copy->value = keep_changed(evaluator, standing->of, copy->value);
    evaluator->rests = rested;
}

static Declaration *standing_declaration(Evaluator *evaluator, Declaration *declaration)
{
    Standing *standing = standing_of(evaluator->arena, evaluator->swaps, declaration);
    if (!standing->begun)
        work_out(evaluator, standing);
    evaluator->rests |= standing->rests;
    return &standing->changed;
}

Value swapped_value(Evaluator *evaluator, Declaration *declaration)
{
    Swap *swap = swap_of(evaluator->swaps, declaration);
    if (!swap) {
        Declaration *standing = standing_declaration(evaluator, declaration);
        declaration->met |= standing->value == declaration->value;
        return own_value(evaluator, standing);
    }
    swap->met = evaluator->rests = true;
    return swap->value;
}

Declaration *swapped_size(Evaluator *evaluator, Declaration *size)
{
    return evaluator->swaps ? standing_declaration(evaluator, size) : size;
}

const Thread *recoloured(Evaluator *evaluator, Declaration *of, const Thread *thread, uint32_t colour)
{
    Thread *other = arena_copy(evaluator->arena, thread, sizeof *thread);
    other->colour = other->bare = colour;
    other->coloured = true;
    other->colours = NULL;
    other->colour_count = 0;
    other->code = NULL;
    return keep_changed(evaluator, of, other);
}

/* --- those of a rod --- */

static void report_twice(Evaluator *evaluator, const Node *swap, Span first, Cause *cause)
{
    Findings *findings = evaluator->findings;
    Finding *finding = finding_add(findings, FINDING_NAME_TWICE, swap->span, "`%s` is swapped twice",
                                   written(findings->words, evaluator->sources, swap->first->span));
    finding_relate(findings, finding, first, "first here");
    finding_mend(findings, finding, "take one of the two out");
    edit_out(findings, finding, evaluator->sources, swap->span);
    *cause = cause_mark(findings, finding->number, swap->span);
}

static void enter_swap(Evaluator *evaluator, Swaps *swaps, const Node *node, Cause *cause)
{
    Declaration *of = node->kind == NODE_SWAP ? (Declaration *)node->first->target : NULL;
    if (!of) {
        *cause = cause_mark(evaluator->findings, node->cause, node->span);
        return;
    }
    Value value = evaluate(evaluator, node->second);
    if (value.type == TYPE_BROKEN)
        *cause = cause_mark(evaluator->findings, value.cause, node->span);
    else if (of->type != TYPE_BROKEN)
        value.type = (uint8_t)of->type; /* a count serves as a ratio */
    if (!swaps_add(evaluator->arena, swaps, (Swap){.of = of, .value = value, .span = node->span}))
        report_twice(evaluator, node, swap_of(swaps, of)->span, cause);
}

void swaps_enter(Evaluator *evaluator, const Node *rod, Cause *cause)
{
    const Node *like = rod->first->next;
    if (!evaluate_steps(evaluator, CALL_STEPS, like->span)) {
        *cause = evaluator->stop;
        return;
    }
    Swaps *swaps = swaps_new(evaluator->arena, evaluator->swaps, rod->first->text->bytes);
    swaps->liked = like->text->bytes;
    for (const Node *node = rod->body; node; node = node->next)
        enter_swap(evaluator, swaps, node, cause);
    evaluator->swaps = swaps;
}

void swaps_leave(Evaluator *evaluator, bool broken)
{
    const Swaps *swaps = evaluator->swaps;
    Findings *findings = evaluator->findings;
    for (uint32_t i = 0; !broken && i < swaps->list.count; i++) {
        const Swap *swap = swaps->list.items[i];
        if (swap->met)
            continue;
        Finding *finding = finding_add(findings, FINDING_SWAP_UNUSED, swap->span,
                                       "nothing in \"%s\" rests on `%s`, so this changes nothing", swaps->liked,
                                       swap->of->name->bytes);
        finding_mend(findings, finding, "take it out, or swap what is used there");
        edit_out(findings, finding, evaluator->sources, swap->span);
    }
    evaluator->swaps = swaps->outer;
}
