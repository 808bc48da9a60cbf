/* Colour preserver comes on a thread before whatever seals it first. */
#include "made_sheet.h"

#include <stdio.h>

#define THREADS                                                                                                   \
    "edition 1\nthread navy { turns: 50 per cm }\nthread rust { turns: 50 per cm }\n"                             \
    "thread mist { turns: 50 per cm, preserver: yes }\nthread foam { turns: 50 per cm, preserver: yes }\n"        \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
#define ROD(bench, layers)                                                                                        \
    THREADS "bench { " bench " }\nrod \"R\" on tube { at 20 cm length: 60 mm { " layers " } }\n"
#define CHEVRON(ends, strand) " chevron crossings: 3 ends: 12 turns of " ends " { strand 4 of " strand " } "

#define LAYER_SEALED "Seal this layer and let it cure"
#define LAYER_BRUSHED "Brush colour preserver on this layer and let it dry, then seal it and let it cure"
#define CHEVRON_SEALED "Seal the chevron and let it cure hard"
#define CHEVRON_BRUSHED "Brush colour preserver on the chevron and let it dry, then seal it and let it cure hard"
#define ROD_BRUSHED "Brush colour preserver on the wraps that need it and let it dry"

/* What is sealed or brushed, in the order of the work, with what is said of why. */
static void put_sealings(const Made *made, char *text)
{
    *text = 0;
    const SheetRod *rod = &made->sheet->rods[0];
    for (uint32_t i = 0; i < rod->action_count; i++) {
        if (rod->actions[i].action->kind != ACTION_SEAL)
            continue;
        const char *detail = rod->actions[i].detail, *from = strstr(detail, "Colour preserver is for ");
        from = from ? from : strstr(detail, "Those with ");
        int length = from ? (int)(strstr(from, "without it.") - from) : 0;
        text += sprintf(text, "%s%s", rod->actions[i].says, from ? ": " : "; ");
        if (from)
            text += sprintf(text, "%.*s; ", length, from);
    }
}

#define MIST_SEALED ": Colour preserver is for mist, which goes darker under sealer or finish ; "
#define MIST_FINISHED ": Those with mist, which goes darker under finish ; "

static void before_whatever_seals_it_first(void **state)
{
    (void)state;
    static const struct {
        const char *text, *sealings;
    } cases[] = {
        /* Nothing is sealed before the finish: with that, and only of threads that need it. */
        {ROD("", "band fill of navy"), ""},
        {ROD("seal: yes", "band fill of mist"), ROD_BRUSHED MIST_FINISHED},
        {ROD("seal: no", "under { band fill of mist }  over { band fill of navy }"), ROD_BRUSHED MIST_FINISHED},
        /* A layer that is sealed by itself, and the last, which the finish seals. */
        {ROD("seal: yes", "under { band fill of mist }  over { band fill of navy }"), LAYER_BRUSHED MIST_SEALED},
        {ROD("seal: yes", "under { band fill of navy }  over { band fill of mist }"),
         LAYER_SEALED "; " ROD_BRUSHED MIST_FINISHED},
        {ROD("seal: yes", "under { band fill of mist }  over { band fill of navy }  over { band fill of mist }"),
         LAYER_BRUSHED MIST_SEALED LAYER_SEALED "; " ROD_BRUSHED MIST_FINISHED},
        {ROD("seal: yes",
             "under { band fill of foam { inlay 4 turns of mist at: 1/2 } }  over { band fill of navy }"),
         LAYER_BRUSHED ": Colour preserver is for mist and foam, which go darker under sealer or finish ; "},
        /* A crosswrap's sealing reaches its strands, its end bands, and what shows in its field. */
        {ROD("", CHEVRON("navy", "rust")), CHEVRON_SEALED "; "},
        {ROD("", CHEVRON("mist", "rust")), CHEVRON_BRUSHED MIST_SEALED},
        {ROD("", CHEVRON("navy", "mist")), CHEVRON_BRUSHED MIST_SEALED},
        {ROD("", "under { band fill of mist }" CHEVRON("navy", "rust")), CHEVRON_BRUSHED MIST_SEALED},
        {ROD("seal: yes", "under { band fill of mist }" CHEVRON("navy", "rust")),
         LAYER_BRUSHED MIST_SEALED CHEVRON_SEALED "; "},
        {ROD("", CHEVRON("navy", "rust") "over { band 20 turns of mist }"),
         CHEVRON_SEALED "; " ROD_BRUSHED MIST_FINISHED},
        /* A spacer comes off again. */
        {ROD("seal: yes", "under { band fill of [navy, spacer(mist)] }  over { band fill of navy }"),
         LAYER_SEALED "; "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = make(cases[i].text);
        char text[2000];
        put_sealings(&made, text);
        if (strcmp(text, cases[i].sealings) != 0)
            fail_msg("case %zu: %s\nnot: %s", i, text, cases[i].sealings);
        turnlay_free(made.compilation);
    }
}

/* Of two places each has its own, and the finish comes once for all that is left. */
static void place_by_place(void **state)
{
    (void)state;
    Made made =
        make(THREADS "bench { seal: yes }\nrod \"R\" on tube {\n"
                     "at 20 cm length: 60 mm { under { band fill of mist }  over { band fill of foam } }\n"
                     "at 40 cm length: 60 mm { under { band fill of navy }  over { band fill of rust } }\n"
                     "at 60 cm length: 60 mm { under { band fill of foam }  over { band fill of mist } }\n}\n");
    char text[2000];
    put_sealings(&made, text);
    assert_string_equal(text, LAYER_BRUSHED MIST_SEALED LAYER_SEALED
                        "; " LAYER_BRUSHED
                        ": Colour preserver is for foam, which goes darker under sealer or finish ; " ROD_BRUSHED
                        ": Those with mist and foam, which go darker under finish ; ");
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(before_whatever_seals_it_first),
        cmocka_unit_test(place_by_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
