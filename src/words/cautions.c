/* Cautions at the actions themselves. */
#include "words/sheet_maker.h"
#include "bench/part_moments.h"

#include <string.h>

/* Name; what is said. All from memory, common practice, no source: they name the danger and the least to do, and
 * leave the rest to makers' data sheets and local rules. */
#define DANGERS(X)                                                                                                   \
    X(NONE, "")                                                                                                      \
    X(SOLVENT,                                                                                                       \
      "Caution: gloves and fresh air; no flame or spark near by. Cleaners burn, and so do cloths wet with "          \
      "them: follow their maker's data sheet and your local rules.")                                                 \
    X(GLUE,                                                                                                          \
      "Caution: gloves and fresh air for glue, goggles and a dust mask where you ream or file. Makers' data sheets " \
      "and your local rules come first.")                                                                            \
    X(FILINGS,                                                                                                       \
      "Caution: wear goggles and a dust mask. Filings fly into eyes, and dust of metal, of glass and of "            \
      "carbon fibre harms lungs: wipe it up damp. What the guide's maker says of filing comes first.")               \
    X(SPINDLE,                                                                                                       \
      "Caution: hair, sleeves and loose thread are clear of the spindle before it turns. Stop it before "            \
      "you reach over it.")                                                                                          \
    X(BLADE,                                                                                                         \
      "Caution: cut away from the blank and from your fingers, with a sharp blade, and lay it down where no "        \
      "hand finds it by chance. A blank breaks under load where a blade has nicked it.")                             \
    X(SEALER,                                                                                                        \
      "Caution: gloves and fresh air; no flame near by. Sealer, finish and colour preserver irritate skin, "         \
      "eyes and lungs until they are dry: follow their makers' data sheets and your local rules.")                   \
    X(FLAME,                                                                                                         \
      "Caution: no solvent, finish, cloth or loose thread near the flame, hair and sleeves tied back, and "          \
      "something wet at hand to put it out.")                                                                        \
    X(FINISH,                                                                                                        \
      "Caution: gloves and fresh air; no flame near by. Uncured finish irritates skin, eyes and lungs, and "         \
      "can sensitise: mix it, cure it and throw it away as its maker's data sheet and your local rules say.")

typedef enum {
#define X(name, words) DANGER_##name,
    DANGERS(X)
#undef X
        DANGER_COUNT
} Danger;

static const char *const cautions[DANGER_COUNT] = {
#define X(name, words) [DANGER_##name] = words,
    DANGERS(X)
#undef X
};

/* Kinds without a row hold no danger of their own. */
static const uint8_t dangers[ACTION_KIND_COUNT] = {
    [ACTION_CLEAN] = DANGER_SOLVENT,        [ACTION_WIPE] = DANGER_SOLVENT,
    [ACTION_DRESS_FOOT] = DANGER_FILINGS,   [ACTION_WIND] = DANGER_SPINDLE,
    [ACTION_LEG] = DANGER_SPINDLE,          [ACTION_LAY_END] = DANGER_BLADE,
    [ACTION_CUT_FROM_SPOOL] = DANGER_BLADE, [ACTION_PULL_THROUGH] = DANGER_BLADE,
    [ACTION_TRIM_TAG] = DANGER_BLADE,       [ACTION_TRIM_END] = DANGER_BLADE,
    [ACTION_TIE_OFF] = DANGER_BLADE,        [ACTION_UNWIND] = DANGER_BLADE,
    [ACTION_TAKE_ENDS] = DANGER_BLADE,      [ACTION_BIND_RING] = DANGER_BLADE,
    [ACTION_SEAL] = DANGER_SEALER,          [ACTION_SINGE] = DANGER_FLAME,
    [ACTION_COAT] = DANGER_FINISH,
};

static Danger danger_of(const PlannedRod *rod, const Action *action)
{
    if (action->kind == ACTION_PART)
        return rod->rod->parts[action->part].slides ? DANGER_GLUE : DANGER_NONE;
    return action->kind == ACTION_WIND && action->by_hand ? DANGER_NONE : (Danger)dangers[action->kind];
}

/* "Cut away from the blank.": without the word that the first one begins with. */
static const char *without_its_word(Arena *arena, const char *caution)
{
    const char *words = caution + strlen("Caution: ");
    return text_format(arena, "%c%s", *words - 'a' + 'A', words + 1);
}

/* Those of its actions, a line each. */
static void gather(Arena *arena, const SheetRod *rod, SheetStep *step)
{
    step->caution = "";
    for (uint32_t i = 0; i < step->count; i++) {
        const char *caution = rod->actions[step->first + i].caution;
        if (*caution)
            step->caution = *step->caution
                                ? text_format(arena, "%s\n%s", step->caution, without_its_word(arena, caution))
                                : caution;
    }
}

/* What is said at every step is not read any more: each is said where it is needed first. */
void sheet_cautions(Arena *arena, Sheet *sheet, uint32_t from)
{
    bool said[DANGER_COUNT] = {[DANGER_NONE] = true};
    for (uint32_t r = 0; r < sheet->rod_count; r++)
        for (uint32_t s = 0; s < sheet->rods[r].section_count; s++) {
            const SheetSection *section = &sheet->rods[r].sections[s];
            for (uint32_t i = 0; i < section->action_count; i++) {
                SheetAction *action = &sheet->rods[r].actions[section->first_action + i];
                Danger danger = danger_of(sheet->rods[r].bench->rod, action->action);
                bool now = !said[danger] && action->step >= from;
                action->caution = now ? cautions[danger] : "";
                said[danger] |= now;
            }
            for (uint32_t i = 0; i < section->step_count; i++)
                gather(arena, &sheet->rods[r], &sheet->rods[r].steps[section->first_step + i]);
        }
}
