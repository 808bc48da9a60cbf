/* An arena for each test, as its setup and teardown: TEST(function) finds it in *state as a Memory. Needs cmocka's
 * headers, <string.h> and base/arena.h before it. */
#ifndef TURNLAY_TESTS_IN_MEMORY_H
#define TURNLAY_TESTS_IN_MEMORY_H

typedef struct Memory {
    Trap trap;
    Arena arena;
} Memory;

static int start(void **state)
{
    static Memory memory;
    memset(&memory, 0, sizeof memory);
    arena_start(&memory.arena, &memory.trap);
    *state = &memory;
    return 0;
}

static int end(void **state)
{
    arena_end(&((Memory *)*state)->arena);
    return 0;
}

#endif
