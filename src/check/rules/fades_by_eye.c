#include "check/kept_fades.h"
#include "check/rules.h"

/* T321: what was chosen for a fade by eye, and how to keep it. */

/* Where it is not proven that nothing is better. */
static const char *at_best(const Check *check, const ChosenTurns *turns)
{
    Arena *words = check->findings->words;
    return turns->bound < turns->departure ? text_format(words, " (at best %s)", show_bound(words, turns->bound))
                                           : "";
}

static void say_how_to_keep(const Check *check, Finding *finding, const KeptFade *kept)
{
    static const char *const ways[] = {
        [KEPT_NOT_ALIKE] =
            "its turns are not the same wherever it is laid: to keep them, write each of these fades out",
        [KEPT_NOT_FROM] = "to keep its turns, wind a band of its first thread before it",
        [KEPT_TOO_MANY] = "to keep its turns, write its threads out in square brackets",
    };
    if (kept->keeping != KEPT) {
        finding_mend(check->findings, finding, "%s", ways[kept->keeping]);
        return;
    }
    finding_mend(check->findings, finding, "to keep these turns for ever, write them in its place");
    finding_edit(check->findings, finding, kept->span, "%s", kept->text);
}

void check_fades_by_eye(const Check *check)
{
    Arena *words = check->findings->words;
    KeptFades fades = kept_fades(check->arena, check->plan);
    for (uint32_t i = 0; i < fades.count; i++) {
        const KeptFade *kept = &fades.items[i];
        Finding *finding = finding_add(check->findings, FINDING_FADE_CHOSEN, kept->choice,
                                       "turns chosen by eye: off by %s of the way%s, by count %s",
                                       show_departure(words, kept->turns->departure), at_best(check, kept->turns),
                                       show_departure(words, kept->turns->by_count));
        finding->times = kept->times;
        finding_label(check->findings, finding, "%s",
                      kept->keeping == KEPT_NOT_ALIKE ? "`turnlay plan` shows the turns of each" : kept->runs);
        say_how_to_keep(check, finding, kept);
    }
}
