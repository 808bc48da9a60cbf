/* Modules: the declarations of one file (or of a used file's text held in braces), and the names they give. */
#ifndef TURNLAY_MEANING_MODULE_H
#define TURNLAY_MEANING_MODULE_H

#include "base/finding.h"
#include "syntax/tree.h"

typedef struct Module Module;

typedef enum { UNSEEN, IN_WORK, DONE } WorkState;

/* A named declaration, a rod by its title, or a name that is handed on from a used file. */
typedef struct Declaration {
    Node *node;
    const Text *name;
    Module *module;
    struct Declaration *next; /* in the table's chain */
    WorkState checked, valued;
    unsigned type;     /* of a let's value; TYPE_THREAD, ... of the others */
    const void *value; /* Value of a let, Thread, Blank, Guide or size; NULL until evaluated */
    uint32_t slots;    /* a pattern's locals */
    uint8_t holds;     /* what a pattern lays: bits of content.h */
    uint32_t height;   /* of patterns that call one another down from this one, itself too */
    Cause cause;       /* why it has no value, or cannot be called */
    bool met;          /* some rod uses it as it is declared */
} Declaration;

typedef struct Use {
    Node *node;               /* NULL for the sizes that every file uses */
    const Text *path, *alias; /* alias NULL: names come as they are */
    Module *module;           /* NULL until given, or refused */
    Cause refused;            /* why it could not be had */
} Use;

struct Module {
    const Tree *tree;
    Node *declarations;
    const Text *path;   /* as used, "" for the compiled file */
    const Node *holder; /* the `use` that holds its text in braces; NULL for a file */
    Module *next_held;  /* of held ones with paths of a like hash */
    uint64_t hash;      /* of its canonical form, 0 until reckoned */
    LIST_OF(Use) uses;
    Declaration **chains;
    uint32_t chain_count;
    uint64_t marks;                /* a bit for each name, by its hash */
    LIST_OF(Declaration *) names;  /* in source order */
    LIST_OF(Declaration *) passes; /* names handed on, in source order; `value`: Passed */
    WorkState checked, passed;     /* for circles; whether its passes are settled */
};

typedef struct Modules {
    LIST_OF(Module *) list; /* the compiled file first, each module once */
    const Module *sizes;    /* std/sizes, or NULL */
} Modules;

/* Enters the module's declarations into its table; names declared twice are reported. */
void module_declare(Arena *arena, Module *module, Findings *findings);
/* False: it has no such name; asked before module_own where there are many modules. */
static inline bool module_may_own(const Module *module, const Text *name)
{
    return module->marks >> (name->hash >> 58) & 1;
}
/* What a name that is handed on stands for, once that is settled (resolve_use.c): as the name of anything but a
 * size, and of a size. NULL for neither; then the declaration has the cause. */
typedef struct Passed {
    uint32_t use; /* index into the module's uses */
    Declaration *of[2];
} Passed;
/* The names that a `use` hands on, as they stand in its option; NULL if it hands on none. */
Node *names_passed_on(const Node *use);
/* The entry of a name that the module hands on; NULL if there is none. */
Declaration *module_pass(const Module *module, const Text *name);
/* What whoever uses the module finds under a name: its own, or what it hands on. NULL if there is none. */
Declaration *module_gives(const Module *module, const Text *name, bool size);

/* A name of the module's own. Sizes have a space of names of their own. NULL if there is none. */
Declaration *module_own(const Module *module, const Text *name, bool size);
/* The module's rod of this title behind `after`, NULL for the first; NULL if there is none. Several may have one.
 */
Declaration *module_rod(const Module *module, const Text *title, const Declaration *after);

typedef struct NameFound {
    Declaration *declaration; /* NULL if there is none */
    const Module *unknown_in; /* which has none of this name, for the caller to report; NULL after a finding */
} NameFound;
/* The name node's declaration: own names first, then those that the module hands on, then used ones. Reports
 * ambiguous names. */
NameFound module_find(const Module *module, const Module *sizes, const Node *name, bool size, Findings *findings);
/* Where module_find gave neither, and no finding: why the used file that may declare the name could not be had. */
Cause module_refused(const Module *module, const Node *name);
/* The first circle of uses below the module is reported; returns whether there is one. */
bool module_circle(Module *module, Findings *findings);

#endif
