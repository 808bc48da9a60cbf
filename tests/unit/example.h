/* Examples as they stand on the disk, with all the files that they use. Needs cmocka's headers before it. */
#ifndef TURNLAY_TESTS_EXAMPLE_H
#define TURNLAY_TESTS_EXAMPLE_H

#include "turnlay.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

static bool give_file(TurnlayCompilation *compilation, const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return false;
    static char text[1 << 20];
    size_t length = fread(text, 1, sizeof text, file);
    fclose(file);
    return turnlay_give(compilation, path, text, length) == TURNLAY_DONE;
}

/* Not yet finished. */
static TurnlayCompilation *example_begun(const char *path)
{
    TurnlayCompilation *compilation = turnlay_new();
    assert_true(give_file(compilation, path));
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        char used[300];
        bool standard = strncmp(want.path, "std/", 4) == 0;
        snprintf(used, sizeof used, "%s/%s.lay", standard ? "stdlib" : "examples", want.path + (standard ? 4 : 0));
        if (!give_file(compilation, used))
            fail_msg("%s wants %s", path, want.path);
    }
    return compilation;
}

#endif
