#include "words/step_letters.h"

#include "base/text.h"

/* Of a sentence of step_words.c, numbers of turns and labels of pieces left out, the letters. */
#define LETTERS(words) (uint8_t)(sizeof(words) - 1)

/* Kind of action, and what is told of it after others. What is not here is done by itself. */
#define TOLD(X)                                                                                                   \
    X(START, "; start  over its own tag")                                                                         \
    X(LAY_IN, "; lay in  under the next  turns")                                                                  \
    X(LAY_LOOP, "; lay a loop for  under the next  turns")                                                        \
    X(LAY_END, "; cut , its end under the next  turns")                                                           \
    X(WIND, "; wind  turns of ")                                                                                  \
    X(STAND, "; let  stand")                                                                                      \
    X(TAKE_UP, "; take up ")                                                                                      \
    X(PULL_THROUGH, "; cut , draw its end back by the loop under the last 40 turns")                              \
    X(TAPE_DOWN, "; tape down the loop for ")                                                                     \
    X(UNTAPE, "; untape the loop for ")                                                                           \
    X(TRIM_TAG, "; trim the tag of ")                                                                             \
    X(TRIM_END, "; trim the end of ")                                                                             \
    X(PACK, "; pack toward the butt")                                                                             \
    X(MEASURE, "; measure: it should be 1234.56 mm")                                                              \
    X(TIE_ON, "; tape on ")                                                                                       \
    X(LEG, "; back toward the butt: , against pass , on its butt side")                                           \
    X(TIE_OFF, "; tape down and cut ")

static const StepLetters sentences = {
#define X(kind, words) .told[ACTION_##kind] = LETTERS(words),
    TOLD(X)
#undef X
        .turns_of_named = LETTERS("; wind  turns"),
    .trim_of_named = LETTERS("; trim its tag"),
    .taped = {[THING_TAG] = LETTERS(", its tag taped"),
              [THING_LINE] = LETTERS(", its long end taped"),
              [THING_END] = LETTERS(", taped"),
              [THING_LOOP] = LETTERS(", taped")},
    .both_taped = LETTERS(", its tag and long end taped"),
    .led_and_taped = LETTERS(", tape it down"),
    .led_and_bobbin = LETTERS(", tape its bobbin down"),
    .bobbin_taped = LETTERS("; tape down the bobbin of "),
    .likewise = LETTERS("; back toward the butt likewise"),
    .untape_line = LETTERS("; untape "),
    .then = LETTERS(", then ") - LETTERS("; "),
    .by_hand = LETTERS(" by hand"),
    .untape_and = LETTERS("untape and "),
    .where = LETTERS(", 123 31/64 in from the mark"),
    .spacer = LETTERS("the spacer "),
    .packing = LETTERS(", packing toward the butt after 1000"),
    .packing_again = LETTERS(", then every ") + LETTERS("00"),
    .each_more = LETTERS(" and ") + LETTERS(" together"),
};

/* Of a text in UTF-8, no more than are ever looked at. */
static uint32_t letters_of(const char *text)
{
    uint32_t letters = 0;
    for (; *text && letters < UINT8_MAX; text++)
        letters += !inside_character(*text);
    return letters;
}

/* "mist 12", of so many pieces. */
static uint8_t label_of(const char *name, uint32_t pieces)
{
    uint32_t letters = letters_of(name) + LETTERS(" ");
    for (; pieces; pieces /= 10)
        letters++;
    return letters < UINT8_MAX ? (uint8_t)letters : UINT8_MAX;
}

/* What is told of the guide's tape has the guide's name. */
static uint8_t guide_tape(const Plan *plan)
{
    uint32_t longest = 0;
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++) {
            const Guide *guide = plan->rods[r].places[p].place->guide;
            uint32_t letters = guide ? letters_of(guide->name->bytes) : 0;
            longest = letters > longest ? letters : longest;
        }
    longest += LETTERS("; take the tape off this foot of ");
    return longest < UINT8_MAX ? (uint8_t)longest : UINT8_MAX;
}

const StepLetters *step_letters(Arena *arena, const Plan *plan)
{
    StepLetters *letters = arena_take(arena, sizeof *letters);
    *letters = sentences;
    bool inches = plan->job->bench.units == SYSTEM_IN;
    letters->told[ACTION_CUT_FROM_SPOOL] = inches ? LETTERS("; cut  from its spool, leaving 12 yd 35 3/4 in")
                                                  : LETTERS("; cut  from its spool, leaving 12.34 m");
    letters->told[ACTION_TAKE_TAPE] = guide_tape(plan);
    uint32_t threads = plan->job->thread_count;
    uint32_t *pieces = arena_take_many(arena, threads, sizeof *pieces);
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].piece_count; p++)
            pieces[plan->rods[r].pieces[p].thread->index]++;
    uint8_t *labels = arena_take_many(arena, threads, sizeof *labels);
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const Thread *thread = plan->totals[i].thread;
        labels[thread->index] = label_of(thread->name->bytes, pieces[thread->index]);
    }
    letters->labels = labels;
    return letters;
}
