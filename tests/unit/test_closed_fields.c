/* The plan's text says with how many strands a field would close, where it is meant to and does not. Half a
 * millimetre a strand, on a cylinder: what fits is (room - the other strands) / 0.5, to the nearest. */
#include "made_sheet.h"

#include <stdio.h>

static void test_what_would_close_it(void **state)
{
    (void)state;
    static const struct {
        const char *crosswrap, *strands, *told; /* NULL: nothing */
    } cases[] = {
        /* 14.82 mm of room, 2.5 mm of it navy: 24.6 of mist */
        {"chevron crossings: 3 field: closed", "strand 5 of navy  strand 25 of mist", NULL},
        {"chevron crossings: 3 field: closed", "strand 5 of navy  strand 26 of mist",
         "; it would close with 25 instead of 26 of mist in the last line\n"},
        {"chevron crossings: 3 field: closed", "strand 6 of navy  strand 30 of mist",
         "; it would close with 24 instead of 30 of mist in the last line\n"},
        {"chevron crossings: 3 field: closed", "strand 30 of mist  strand 5 of mist",
         "; it would close with 0 instead of 5 of mist in the last line\n"},
        {"chevron crossings: 3 field: open", "strand 5 of navy  strand 26 of mist", NULL},
        {"chevron crossings: 3", "strand 5 of navy  strand fill of mist", NULL},
        /* 11.48 mm of room; strands of a diamond's further lines lie on both sides */
        {"diamond crossings: 4 field: closed", "strand 5 of navy  strand 9 of mist", NULL},
        {"diamond crossings: 4 field: closed", "strand 5 of navy  strand 30 of mist",
         "; it would close with 18 instead of 60 of mist in the last line, both sides counted\n"},
        {"diamond crossings: 4 field: closed", "strand 30 of mist",
         "; it would close with 23 instead of 30 of mist in the last line\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[1024], joined[16384];
        snprintf(
            text, sizeof text,
            "edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
            "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\nrod \"R\" on tube { at 30 cm length: 60 mm { %s "
            "ends: 12 turns of navy { %s } } }\n",
            cases[i].crosswrap, cases[i].strands);
        Compilation *made = compilation_new(0);
        turnlay_give(made, "test.lay", text, strlen(text));
        turnlay_finish(made);
        if (setjmp(*trap_set(&made->trap)) != 0)
            fail_msg("the machine has no memory left");
        Buffer out;
        buffer_start(&out, &made->arena);
        emit_plan_text(&out, made->plan);
        buffer_put(&out, "", 1);
        size_t length = 0; /* lines that go on, joined */
        for (const char *at = out.bytes; *at && length + 1 < sizeof joined; at++)
            if (strncmp(at, "\n    ", 5) == 0) {
                joined[length++] = ' ';
                at += 4;
            } else
                joined[length++] = *at;
        joined[length] = 0;
        const char *said = strstr(joined, "; it would close with ");
        if (!cases[i].told) {
            if (said)
                fail_msg("%s: %.100s", cases[i].strands, said);
        } else
            for (int end = 0; end < 2; end++) {
                assert_non_null(said);
                assert_memory_equal(said, cases[i].told, strlen(cases[i].told));
                said = strstr(said + 1, "; it would close with ");
            }
        turnlay_free(made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_what_would_close_it)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
