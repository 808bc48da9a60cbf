#include "base/arena.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum { FIRST_BLOCK = 16 * 1024, LARGEST_BLOCK = 16 * 1024 * 1024, LARGE_ARRAY = 64 * 1024 };

struct ArenaBlock {
    ArenaBlock *older;
    size_t size;
};

/* The head of a large array. */
struct ArenaArray {
    ArenaArray *before, *next;
};

_Static_assert(sizeof(ArenaArray) % ARENA_ALIGNMENT == 0, "memory after an array's head must be aligned");
_Static_assert(sizeof(ArenaBlock) % ARENA_ALIGNMENT == 0, "memory after a block's head must be aligned");

void arena_start(Arena *arena, Trap *trap) { *arena = (Arena){.trap = trap}; }

Arena *arena_child(Arena *parent)
{
    Arena *child = arena_take(parent, sizeof *child);
    *child = (Arena){.trap = parent->trap, .sibling = parent->children};
    parent->children = child;
    return child;
}

_Noreturn void trap_spring(Trap *trap)
{
    if (!trap->set)
        abort();
    trap_clear(trap);
    longjmp(trap->jump, 1);
}

_Noreturn void trap_beyond(Trap *trap, Beyond beyond)
{
    trap->beyond = beyond;
    trap_spring(trap);
}

_Noreturn void arena_exhausted(Arena *arena) { trap_spring(arena->trap); }

void *trap_allocate(Trap *trap, size_t size)
{
    trap->requests++;
    void *memory = trap->requests == trap->fail_at ? NULL : calloc(1, size);
    if (!memory)
        trap_spring(trap);
    return memory;
}

/* Of a large file two fifths of the time went to asking the system for each page of 4 KiB; those of 2 MiB come at
 * once. Whether there are any is the system's affair. Only for what is dense: tables with a place for each thread
 * of each rod are mostly never touched. */
static void take_large_pages(unsigned char *from, unsigned char *to)
{
#ifdef MADV_HUGEPAGE
    const uintptr_t page = 2 * 1024 * 1024;
    uintptr_t first = ((uintptr_t)from + page - 1) & ~(page - 1), end = (uintptr_t)to & ~(page - 1);
    if (first < end)
        madvise((void *)first, end - first, MADV_HUGEPAGE);
#else
    (void)from;
    (void)to;
#endif
}

/* What is to be so large has so far been so large. */
static void account(Arena *arena, size_t before, size_t size)
{
    arena->taken -= before;
    if (arena->most && size > arena->most - arena->taken)
        trap_beyond(arena->trap, BEYOND_PAGE_MEMORY);
    arena->taken += size;
}

/* Blocks double up to a limit, so that small compilations stay small. The system's zeroed pages
 * are used as they come. */
static void add_block(Arena *arena, size_t wanted)
{
    size_t size = arena->blocks ? arena->blocks->size * 2 : FIRST_BLOCK;
    if (size > LARGEST_BLOCK)
        size = LARGEST_BLOCK;
    if (size < wanted)
        size = wanted;
    if (size > SIZE_MAX - sizeof(ArenaBlock))
        arena_exhausted(arena);
    account(arena, 0, size);
    ArenaBlock *block = trap_allocate(arena->trap, sizeof *block + size);
    block->older = arena->blocks;
    block->size = size;
    arena->blocks = block;
    arena->next = (unsigned char *)(block + 1);
    arena->end = arena->next + size;
    if (arena->dense)
        take_large_pages(arena->next, arena->end);
    arena_close(arena->next, size);
}

void *arena_take_anew(Arena *arena, size_t size)
{
    add_block(arena, size);
    void *taken = arena->next;
    arena->next += size;
    return taken;
}

void *arena_take_many(Arena *arena, size_t count, size_t size)
{
    if (size && count > SIZE_MAX / size)
        arena_exhausted(arena);
    return arena_take(arena, count * size);
}

void *arena_copy(Arena *arena, const void *bytes, size_t size)
{
    return size ? memcpy(arena_take(arena, size), bytes, size) : NULL;
}

static ArenaArray *reallocate(Arena *arena, ArenaArray *old, size_t bytes)
{
    Trap *trap = arena->trap;
    trap->requests++;
    ArenaArray *array = trap->requests == trap->fail_at ? NULL : realloc(old, sizeof *array + bytes);
    if (!array)
        trap_spring(trap);
    return array;
}

void *arena_grow(Arena *arena, void *old, size_t old_count, size_t new_count, size_t size)
{
    if (new_count > (SIZE_MAX - sizeof(ArenaArray)) / size)
        arena_exhausted(arena);
    size_t bytes = new_count * size, used = old_count * size;
    bool was_large = used >= LARGE_ARRAY;
    if (bytes < LARGE_ARRAY) {
        void *grown = arena_take(arena, bytes);
        if (used) {
            memcpy(grown, old, used);
            arena_close(old, used);
        }
        return grown;
    }
    account(arena, was_large ? used : 0, bytes);
    ArenaArray *array = reallocate(arena, was_large ? (ArenaArray *)old - 1 : NULL, bytes);
    if (!was_large) {
        *array = (ArenaArray){.next = arena->arrays};
        if (used) {
            memcpy(array + 1, old, used);
            arena_close(old, used);
        }
    }
    *(array->before ? &array->before->next : &arena->arrays) = array;
    if (array->next)
        array->next->before = array;
    return array + 1;
}

/* Down to `last`, which stays. Children stand in their parent's memory: they go first. */
static void free_blocks(Arena *arena, ArenaBlock *last)
{
    for (Arena *child = arena->children; child; child = child->sibling)
        arena_end(child);
    for (ArenaBlock *block = arena->blocks; block != last;) {
        ArenaBlock *older = block->older;
        free(block);
        block = older;
    }
    for (ArenaArray *array = arena->arrays; array;) {
        ArenaArray *next = array->next;
        free(array);
        array = next;
    }
}

void arena_clear(Arena *arena)
{
    ArenaBlock *oldest = arena->blocks;
    while (oldest && oldest->older)
        oldest = oldest->older;
    if (!oldest || oldest->size > FIRST_BLOCK) {
        arena_end(arena);
        return;
    }
    unsigned char *start = (unsigned char *)(oldest + 1), *end = start + oldest->size;
    size_t used = (size_t)((oldest == arena->blocks ? arena->next : end) - start);
    free_blocks(arena, oldest);
    arena_open(start, used);
    memset(start, 0, used);
    arena_close(start, oldest->size);
    *arena = (Arena){.trap = arena->trap, .sibling = arena->sibling, .blocks = oldest, .next = start, .end = end};
}

void arena_exchange(Arena *one, Arena *other)
{
    Arena before = *one;
    one->blocks = other->blocks;
    one->next = other->next;
    one->end = other->end;
    one->arrays = other->arrays;
    other->blocks = before.blocks;
    other->next = before.next;
    other->end = before.end;
    other->arrays = before.arrays;
}

void arena_end(Arena *arena)
{
    free_blocks(arena, NULL);
    *arena = (Arena){.trap = arena->trap, .sibling = arena->sibling};
}
