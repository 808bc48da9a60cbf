/* Memory by lifetime: everything of one compilation is taken from arenas and given back at
 * once. Taking never returns NULL: when the machine has no memory left, control jumps to the
 * trap that the library's entry set, and the compilation reports "the machine failed". */
#ifndef TURNLAY_BASE_ARENA_H
#define TURNLAY_BASE_ARENA_H

#include <setjmp.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What a page outgrew: limits of base/limits.h, each with its name and number in words in src/compile.c. */
typedef enum {
    BEYOND_NOTHING,
    BEYOND_PAGE_BYTES,
    BEYOND_PAGE_MEMORY,
    BEYOND_STEPS,
    BEYOND_GATHERED,
    BEYOND_PRINTED,
    BEYOND_PAINTED,
    BEYOND_PIXELS,
    BEYOND_PIXEL_ROWS,
    BEYOND_SHADES,
    BEYOND_COUNT
} Beyond;

/* Where control goes when memory runs out, or a page grows beyond a limit, while it is set. Tests make the Nth
 * request fail. */
typedef struct Trap {
    jmp_buf jump;
    bool set;
    Beyond beyond;     /* why it was sprung; BEYOND_NOTHING: memory ran out */
    uint64_t requests; /* blocks asked of the system so far */
    uint64_t fail_at;  /* the request that fails, 0 for none */
} Trap;

/* Sets it: if (setjmp(*trap_set(&trap)) != 0) ... memory has run out. Whoever sets it clears it before its frame
 * goes; springing clears it too. */
static inline jmp_buf *trap_set(Trap *trap)
{
    trap->set = true;
    return &trap->jump;
}
static inline void trap_clear(Trap *trap) { trap->set = false; }
/* Memory has run out. Where no trap is set nobody could go on, and the program is aborted. */
_Noreturn void trap_spring(Trap *trap);
/* The same for a page that grows beyond a limit. */
_Noreturn void trap_beyond(Trap *trap, Beyond beyond);
/* Zeroed memory that belongs to no arena, for free(). Springs the trap where there is none left. */
void *trap_allocate(Trap *trap, size_t size);

typedef struct ArenaBlock ArenaBlock;
typedef struct ArenaArray ArenaArray;
typedef struct Arena {
    Trap *trap;
    ArenaBlock *blocks; /* newest first */
    unsigned char *next, *end;
    bool dense;         /* all that is taken is written soon, so that large pages pay; arena_clear takes it back */
    ArenaArray *arrays; /* large ones that grow, each by itself */
    struct Arena *children, *sibling; /* those that end with it; the next of its parent's */
    size_t taken, most; /* bytes; how many they may be, 0 for any number: more are BEYOND_PAGE_MEMORY */
} Arena;

void arena_start(Arena *arena, Trap *trap);
/* An arena for what is needed a shorter time than the parent, with which it ends at the latest. */
Arena *arena_child(Arena *parent);
/* Gives back all that was taken, but for a small block that is used again; those of its children too. */
void arena_clear(Arena *arena);
/* What was taken from one belongs to the other now. Their children stay. */
void arena_exchange(Arena *one, Arena *other);
/* What arena_take does when the newest block is used up. size is a multiple of ARENA_ALIGNMENT, or too large for
 * any block. */
void *arena_take_anew(Arena *arena, size_t size);

enum { ARENA_ALIGNMENT = 16 };

/* Under the address sanitizer memory is out of bounds until it is taken, and again when it is given back; between
 * what is taken something stays so. */
#if defined(__SANITIZE_ADDRESS__)
#define ARENA_GUARDED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define ARENA_GUARDED 1
#endif
#endif
#ifdef ARENA_GUARDED
#include <sanitizer/asan_interface.h>
#define arena_close(memory, size) ASAN_POISON_MEMORY_REGION(memory, size)
#define arena_open(memory, size) ASAN_UNPOISON_MEMORY_REGION(memory, size)
enum { ARENA_GAP = ARENA_ALIGNMENT };
#else
#define arena_close(memory, size) ((void)0)
#define arena_open(memory, size) ((void)0)
enum { ARENA_GAP = 0 };
#endif
static inline void *arena_opened(void *memory, size_t size)
{
    (void)size;
    arena_open(memory, size);
    return memory;
}

/* Zeroed memory, aligned for any type. Here, since every node of a tree is taken so. */
static inline void *arena_take(Arena *arena, size_t size)
{
    size_t whole = ((size + (size == 0) + ARENA_ALIGNMENT - 1) & ~(size_t)(ARENA_ALIGNMENT - 1)) + ARENA_GAP;
    if (whole < size || whole > (size_t)(arena->end - arena->next))
        return arena_opened(arena_take_anew(arena, whole < size ? SIZE_MAX : whole), size);
    void *taken = arena->next;
    arena->next += whole;
    return arena_opened(taken, size);
}
/* count * size zeroed bytes; a product that overflows counts as memory run out. */
void *arena_take_many(Arena *arena, size_t count, size_t size);
/* A copy of so many bytes; NULL of none. */
void *arena_copy(Arena *arena, const void *bytes, size_t size);
/* An array that began as NULL, with room for more: `old` is no more to be used. What is new in it is not zeroed.
 * Large ones are given more room by the system, so that nothing is copied or left behind. */
void *arena_grow(Arena *arena, void *old, size_t old_count, size_t new_count, size_t size);
/* Springs the arena's trap: for other libraries' failures to allocate. */
_Noreturn void arena_exhausted(Arena *arena);
void arena_end(Arena *arena);

/* Room for the next round of growth: arrays double. */
static inline uint32_t arena_next_room(uint32_t room) { return room == 0 ? 8 : room * 2; }

/* A growable array that lives in an arena: LIST_OF(Run) runs; *LIST_ADD(arena, &runs) = run; What was taken before
 * moves as it grows. */
#define LIST_OF(type)                                                                                             \
    struct {                                                                                                      \
        type *items;                                                                                              \
        uint32_t count, room;                                                                                     \
    }
#define LIST_ADD(arena, list)                                                                                     \
    ((list)->count == (list)->room                                                                                \
         ? (void)((list)->items = arena_grow((arena), (list)->items, (list)->count,                               \
                                             arena_next_room((list)->room), sizeof *(list)->items),               \
                  (list)->room = arena_next_room((list)->room))                                                   \
         : (void)0,                                                                                               \
     &(list)->items[(list)->count++])

#endif
