/* What was named last is not named again: that is all that bench knows of sentences. How long they are is given
 * (StepLetters). */
#include "bench/step_length.h"

#include <math.h>

static uint32_t digits_of(uint32_t number)
{
    uint32_t digits = 1;
    while (number /= 10)
        digits++;
    return digits;
}

static uint32_t letters_of_labels(const StepLetters *letters, const PlannedRod *rod, const Action *action)
{
    if (action->piece_count == 1)
        return letters->labels[rod->pieces[action->piece].thread->index];
    PieceGroup pieces = action_pieces(action);
    uint32_t sum = 0;
    for (uint32_t i = 0; i < pieces.count; i++) {
        sum += letters->labels[rod->pieces[group_piece(pieces, i)].thread->index];
        sum += i ? letters->each_more : 0u;
    }
    return sum;
}

static bool is_spacer(const PlannedRod *rod, const Action *action)
{
    return action->piece != NO_PIECE && rod->pieces[action->piece].spacer;
}

static bool is_named(const Folding *folding, const Action *action)
{
    return folding->named != ACTION_KIND_COUNT && same_group(folding->named_pieces, action_pieces(action));
}

static bool is_named_alone(const Folding *folding, const Action *action)
{
    return action->piece_count < 2 && is_named(folding, action);
}

static bool is_laid(ActionKind kind)
{
    return kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP || kind == ACTION_LAY_END;
}

static bool is_trim(ActionKind kind) { return kind == ACTION_TRIM_TAG || kind == ACTION_TRIM_END; }

/* A tag or an end that is untaped as it is trimmed. */
static bool is_trimmed_next(const PlannedRod *rod, const Action *action)
{
    return action->kind == ACTION_UNTAPE && (action->thing == THING_TAG || action->thing == THING_END)
           && !is_spacer(rod, action);
}

/* Beside no turn that was made before: then it is told where, unless that is at the mark. */
static bool begins_turns(const Folding *folding, const Action *action)
{
    return action->kind == ACTION_START && !(fabs(action->position - folding->wound_to) <= NO_GAP);
}

static uint32_t letters_of_turns(const Folding *folding, const StepLetters *letters, const Action *action,
                                 uint32_t labels)
{
    bool named = (folding->named == ACTION_START || folding->named == ACTION_CUT_FROM_SPOOL
                  || folding->named == ACTION_UNTAPE)
                 && is_named(folding, action);
    return (named ? letters->turns_of_named : letters->told[ACTION_WIND] + labels)
           + (folding->named == ACTION_WIND ? letters->then : 0u) + (action->by_hand ? letters->by_hand : 0u)
           + digits_of(action->turns);
}

static uint32_t letters_of_tape(const Folding *folding, const StepLetters *letters, const PlannedRod *rod,
                                const Action *action, uint32_t labels)
{
    bool line = action->thing == THING_LINE, named = is_named_alone(folding, action),
         bobbin = line && rod->pieces[action->piece].bobbin;
    if (named && is_laid(folding->last))
        return letters->taped[action->thing];
    if (named && line && folding->last == ACTION_WIND)
        return bobbin ? letters->led_and_bobbin : letters->led_and_taped;
    if (named && line && folding->last == ACTION_TAPE_DOWN && folding->tag_taped)
        return letters->both_taped - letters->taped[THING_TAG];
    return (bobbin ? letters->bobbin_taped : letters->told[ACTION_TAPE_DOWN]) + labels;
}

static uint32_t letters_of_untaping(const StepLetters *letters, const PlannedRod *rod, const Action *action,
                                    uint32_t labels)
{
    if (is_trimmed_next(rod, action))
        return letters->untape_and;
    return labels + (action->thing == THING_LINE ? letters->untape_line : letters->told[ACTION_UNTAPE]);
}

/* Whose tag or end it is goes without saying behind another trim of that piece, and where the step is of that
 * piece alone. */
static bool is_plainly_its(const Folding *folding, const Action *action)
{
    bool alone = !folding->mixed && same_group(folding->first_pieces, action_pieces(action));
    return is_named_alone(folding, action) && (folding->trimmed || alone);
}

static uint32_t letters_of_trim(const Folding *folding, const StepLetters *letters, const Action *action,
                                uint32_t labels)
{
    return is_plainly_its(folding, action) ? letters->trim_of_named : letters->told[ACTION_TRIM_TAG] + labels;
}

/* Back beside the same pass, on the same side, as the leg out. */
static uint32_t letters_of_leg(const Folding *folding, const StepLetters *letters, const Action *action,
                               uint32_t labels)
{
    bool likewise = action->leg.leg == LEG_BACK && folding->named == ACTION_LEG
                    && folding->leg_side == action->leg.side && folding->leg_neighbour == action->leg.neighbour;
    return likewise ? letters->likewise
                    : letters->told[ACTION_LEG] + labels
                          + (action->leg.neighbour == NO_PASS ? 0u : digits_of(action->leg.neighbour + 1));
}

uint32_t letters_told(const Folding *folding, const StepLetters *letters, const PlannedRod *rod,
                      const Action *action)
{
    uint32_t labels = letters_of_labels(letters, rod, action);
    switch (action->kind) {
    case ACTION_WIND: return letters_of_turns(folding, letters, action, labels);
    case ACTION_TAPE_DOWN: return letters_of_tape(folding, letters, rod, action, labels);
    case ACTION_UNTAPE: return letters_of_untaping(letters, rod, action, labels);
    case ACTION_TRIM_TAG:
    case ACTION_TRIM_END: return letters_of_trim(folding, letters, action, labels);
    case ACTION_LEG: return letters_of_leg(folding, letters, action, labels);
    case ACTION_STAND:
    case ACTION_TAKE_UP: return 0; /* see letters_of_change */
    case ACTION_LAY_END:
    case ACTION_PULL_THROUGH:
        if (folding->last == ACTION_UNTAPE && folding->named == ACTION_UNTAPE && is_named(folding, action))
            labels = letters->untape_and - letters->untape_line; /* "untape and cut" */
        break;
    default: break;
    }
    bool covers = is_laid(action->kind) && action->kind != ACTION_START;
    return letters->told[action->kind] + labels + (covers ? digits_of(action->turns) : 0u)
           + (is_spacer(rod, action) ? letters->spacer : 0u)
           + (begins_turns(folding, action) ? letters->where : 0u);
}

uint32_t letters_of_change(const StepLetters *letters, const PlannedRod *rod, const Action *action)
{
    bool changes = action->kind == ACTION_STAND || action->kind == ACTION_TAKE_UP;
    return changes ? letters->told[action->kind] + letters_of_labels(letters, rod, action) : 0;
}

uint32_t letters_of_packing(const Folding *folding, const StepLetters *letters, const Action *action)
{
    return folding->packings == 0   ? letters->packing
           : folding->packings == 1 ? letters->packing_again + digits_of(action->turns)
                                    : 0;
}

/* Kinds that are told without naming pieces, or not themselves. */
static bool names_nothing(const Folding *folding, const Action *action)
{
    switch (action->kind) {
    case ACTION_STAND:
    case ACTION_TAKE_UP:
    case ACTION_TAPE_DOWN:
    case ACTION_PACK:
    case ACTION_MEASURE: return true;
    case ACTION_UNTAPE: return action->thing == THING_TAG || action->thing == THING_END;
    default: return is_trim(action->kind) && is_plainly_its(folding, action);
    }
}

void name_told(Folding *folding, const Action *action)
{
    bool changes = action->kind == ACTION_STAND || action->kind == ACTION_TAKE_UP;
    folding->last = action->kind;
    if (action->piece != NO_PIECE && !changes) {
        if (!folding->first_pieces.count)
            folding->first_pieces = action_pieces(action);
        folding->mixed |= !same_group(folding->first_pieces, action_pieces(action));
    }
    if (action->kind == ACTION_TAPE_DOWN)
        folding->tag_taped = action->thing == THING_TAG;
    bool names_none = names_nothing(folding, action);
    folding->trimmed = is_trim(action->kind) || (folding->trimmed && action->kind == ACTION_UNTAPE);
    if (names_none)
        return;
    folding->named = action->kind;
    folding->named_pieces = action_pieces(action);
    folding->leg_side = action->kind == ACTION_LEG ? action->leg.side : 0;
    folding->leg_neighbour = action->kind == ACTION_LEG ? action->leg.neighbour : NO_PASS;
}

uint32_t letters_to_come(const Folding *with, const StepLetters *letters, const PlannedRod *rod,
                         const Action *action)
{
    bool at_once = action->kind == ACTION_STAND || action->kind == ACTION_TAKE_UP || action->kind == ACTION_START;
    if (at_once)
        return letters->told[ACTION_WIND] + letters_of_labels(letters, rod, action);
    return is_trimmed_next(rod, action)
               ? letters_of_trim(with, letters, action, letters_of_labels(letters, rod, action))
               : 0;
}
