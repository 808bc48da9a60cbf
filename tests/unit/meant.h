/* What a builder most likely meant: a text is mended by the edit of its first finding, and held against what was
 * meant.
 */
#ifndef TURNLAY_TESTS_MEANT_H
#define TURNLAY_TESTS_MEANT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_TEXT = 4000 };

/* The text compiled, with an empty file for whatever it uses; what is named "gone" cannot be had. */
static Compilation *compiled(const char *text)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    for (const char *path = turnlay_want(made).path; path; path = turnlay_want(made).path)
        if (strncmp(path, "std/sizes", 9) == 0)
            turnlay_give(made, "sizes.lay", "edition 1\nsize A { diameter: 0.15 mm }\n", 39);
        else if (strcmp(path, "shop") == 0)
            turnlay_give(made, "shop.lay", "edition 1\nthread rust { turns: 60 per cm }\n", 43);
        else
            turnlay_refuse(made, path, TURNLAY_FILE_NOT_FOUND, "it is not there");
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    return made;
}

/* The text after the edit of its first finding that has one; notes aside. */
static void mend(const char *text, char *mended)
{
    Compilation *made = compiled(text);
    const Finding *first = NULL;
    for (uint32_t i = 0; i < made->findings.list.count; i++) {
        const Finding *finding = &made->findings.list.items[i];
        assert_null(strstr(finding->message, "(null)"));
        assert_null(strstr(finding->mend, "(null)"));
        if (!first && finding->has_edit && finding->severity != SEVERITY_NOTE)
            first = finding;
    }
    if (!first)
        fail_msg("nothing to mend, or no way to:\n%s", text);
    sprintf(mended, "%.*s%s%s", (int)first->edit.span.start, text, first->edit.text, text + first->edit.span.end);
    turnlay_free(made);
}

/* Each @ of the form is what is written, or what was meant. */
static void write_text(char *text, const char *form, const char *words)
{
    for (; *form; form++)
        text += *form == '@' ? sprintf(text, "%s", words) : sprintf(text, "%c", *form);
    *text = 0;
}

typedef struct Slip {
    const char *written, *meant;
} Slip;

static inline void check(const char *form, const Slip *slips, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char text[LONGEST_TEXT], mended[LONGEST_TEXT], meant[LONGEST_TEXT];
        write_text(text, form, slips[i].written);
        write_text(meant, form, slips[i].meant);
        mend(text, mended);
        assert_string_equal(mended, meant);
    }
}
#define CHECK(form, slips) check(form, slips, sizeof(slips) / sizeof *(slips))

#define THREADS                                                                                                   \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm, colour: #22346b }\n"                                                         \
    "thread dark_blue { turns: 67 per cm, colour: #1d2f57 }\n"
#define BLANK "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
#define GUIDE "guide ring { foot: [16 mm, 16 mm], gap: 8 mm }\n"
#define PATTERNS                                                                                                  \
    "pattern foot(main: thread, trim: thread, edge: turns = 8 turns) { band edge of main  band edge of trim }\n"  \
    "pattern stripes(shades: threads, each: turns) { for one in shades { band each of one } }\n"
#define LAYER THREADS BLANK GUIDE PATTERNS "rod \"Meant\" on tube {\n    at 20 cm length: 60 mm { @ }\n}\n"
#define PLACE THREADS BLANK GUIDE PATTERNS "rod \"Meant\" on tube {\n    at @ { band 20 turns of navy }\n}\n"
#define INCHES                                                                                                    \
    "edition 1\nthread navy { turns: 170 per in }\nblank tube { at 0 in: 1/2 in  at 40 in: 5/32 in }\n"           \
    "rod \"Meant\" on tube { at 8 in length: 2 in { @ } }\n"

#endif
