/* Sheets made from texts, and what they say. */
#ifndef TURNLAY_TESTS_MADE_SHEET_H
#define TURNLAY_TESTS_MADE_SHEET_H

#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "emit/emit.h"
#include "words/sheet.h"
#include "compilation.h"
#include "words/step_letters.h"

#include <string.h>

typedef struct Made {
    Compilation *compilation;
    Sheet *sheet;
} Made;

static inline Made make(const char *text)
{
    Made made = {compilation_new(0), NULL};
    turnlay_give(made.compilation, "test.lay", text, strlen(text));
    assert_null(turnlay_want(made.compilation).path);
    assert_int_equal(turnlay_finish(made.compilation), TURNLAY_DONE);
    if (setjmp(*trap_set(&made.compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    made.sheet = sheet_make(&made.compilation->arena,
                            bench_make(&made.compilation->arena, made.compilation->plan,
                                       step_letters(&made.compilation->arena, made.compilation->plan)));
    return made;
}

static inline const char *text_from(const Made *made, uint32_t from)
{
    Buffer out;
    buffer_start(&out, &made->compilation->arena);
    emit_sheet_text(&out, made->sheet, from, DEPTH_STEPS);
    buffer_put(&out, "", 1);
    return out.bytes;
}

/* The nth action (from 0) with these words as its action, in any rod; fails if there is none. */
static inline const SheetAction *nth_step(const Made *made, const char *action, int nth)
{
    for (uint32_t r = 0; r < made->sheet->rod_count; r++)
        for (uint32_t i = 0; i < made->sheet->rods[r].action_count; i++)
            if (strcmp(made->sheet->rods[r].actions[i].says, action) == 0 && nth-- == 0)
                return &made->sheet->rods[r].actions[i];
    fail_msg("no step says: %s", action);
    return NULL;
}

static inline const SheetAction *step_saying(const Made *made, const char *action)
{
    return nth_step(made, action, 0);
}

#define assert_says(text, words)                                                                                  \
    do {                                                                                                          \
        if (!strstr((text), (words)))                                                                             \
            fail_msg("not said: %s\nin: %s", (words), (text));                                                    \
    } while (0)
#define assert_keeps_quiet(text, words)                                                                           \
    do {                                                                                                          \
        if (strstr((text), (words)))                                                                              \
            fail_msg("said: %s\nin: %s", (words), (text));                                                        \
    } while (0)

#endif
