/* Inside the meaning room: the pass that finds what every name means and of which kind every value is, before
 * anything is evaluated; also in patterns that nobody calls. */
#ifndef TURNLAY_MEANING_RESOLVER_H
#define TURNLAY_MEANING_RESOLVER_H

#include "base/source.h"
#include "meaning/module.h"
#include "meaning/option.h"

typedef struct Local {
    const Text *name;
    unsigned type;
    Cause cause;           /* of a broken one */
    uint32_t older;        /* the local that it hides in its bucket, + 1 */
    const Node *parameter; /* of a pattern, where it is one */
    unsigned reads;        /* READS_ of here.h: what its value rests on */
    bool part;             /* a part of the rod: its ends are the two locals behind it */
} Local;

enum { LOCAL_BUCKETS = 256 };

/* Where a value stands, for mends: in which kind of node, and as what: an option's name, or a SPOT_ of likely.h;
 * `part` NULL where nothing is known. */
typedef struct ValueSpot {
    NodeKind owner;
    const char *part;
} ValueSpot;

typedef struct Resolver {
    Arena *arena;
    Texts *texts;
    const Sources *sources;
    Findings *findings;
    Module *module; /* whose names are being looked up */
    const Module *sizes;
    LIST_OF(Local) locals;
    uint32_t buckets[LOCAL_BUCKETS]; /* newest local of each, + 1 */
    uint32_t floor;                  /* locals below belong to a caller */
    uint32_t slots;                  /* most locals alive at once above the floor */
    unsigned depth;                  /* of the expression */
    Cause value_too_deep;            /* that the value being looked at has too many parts in one another */
    unsigned pattern_depth;          /* patterns being checked within one another */
    uint32_t height;                 /* of the highest pattern called so far by the one being checked */
    Cause too_deep;                  /* that patterns call one another too deep: told once */
    const Text
        *near_thread; /* the last single name that stood for a thread after `of` or `to`; NULL before the first */
    TypeSet wanted;   /* what may stand where a name is being looked up; 0 for anything */
    ValueSpot spot;   /* and where that is */
    const Node *before; /* the statement before the one that is being looked at; NULL if it is the first */
    const Node *room; /* the length of the place or layer that is being looked at, as written; NULL if it is not */
    const Node *series; /* in the braces of which something is being looked at; NULL outside of all */
    unsigned reads;     /* READS_ of here.h: what was read of `here` since it was set to 0 */
    const Node
        *mark; /* of the place or part that is being looked at, once its kind is known; NULL if it is none */
    unsigned searches; /* for what an unknown name was meant to be, so far */
} Resolver;

/* Where a name was found: Node.scope. */
enum { SCOPE_NONE, SCOPE_LOCAL, SCOPE_DECLARED, SCOPE_BUILT_IN, SCOPE_HERE };

/* What a statement stands in. */
typedef enum { IN_ROD, IN_SERIES, IN_PLACE, IN_PATTERN, IN_LAYER, IN_BAND, IN_CROSSWRAP } Within;

/* Settles the names that a module hands on, and before it those of the files that it uses: before anything else is
 * looked up. */
void resolve_passes(Resolver *resolver, Module *module);
/* Everything that a module declares. */
void resolve_module(Resolver *resolver, Module *module);
/* The kind of a value; sets it on the node and all below. TYPE_BROKEN, with its cause, once a finding is out. */
unsigned infer(Resolver *resolver, Node *node);
/* Whether the name is one of what is known in a series, and its kind. */
bool names_here(const Resolver *resolver, const Node *name);
unsigned infer_here(Resolver *resolver, Node *name);
/* A node that is never to be evaluated or laid, for the finding that was told since `told`. Gives TYPE_BROKEN. */
unsigned resolve_broken(Resolver *resolver, Node *node, uint64_t told);
/* An option that counts as not written, for the same reason. */
void drop_option(Resolver *resolver, Node *option, uint64_t told);
/* infer, and a finding unless the kind fits. `wanted` says for what: a phrase, or one
 * word, the name of an option or parameter. Returns the kind or TYPE_BROKEN. */
unsigned want(Resolver *resolver, Node *node, TypeSet set, const char *wanted);
/* The same at a spot of which something is known: the mend is likelier to be what was meant. */
unsigned want_at(Resolver *resolver, Node *node, TypeSet set, const char *wanted, ValueSpot spot);
/* Names and kinds of the options of node, after its table. */
void resolve_options(Resolver *resolver, Node *node);
/* A let's kind, working it out if need be. */
unsigned resolve_let(Resolver *resolver, Declaration *declaration);
/* A pattern's body, if it has not been looked at yet. */
void resolve_pattern(Resolver *resolver, Declaration *declaration);
/* The arguments of a call, matched to parameters: each ARGUMENT's slot is its parameter's number. */
void resolve_call(Resolver *resolver, Node *call);
/* A name that was found but is of another kind than the `wanted` one ("blank"). */
void report_other_kind(Resolver *resolver, const Node *name, const Declaration *found, NodeKind kind,
                       const char *wanted);
/* The name of an option or argument alone. */
Span option_name_span(const Node *option);
void resolve_statements(Resolver *resolver, Node *statements, Within within);

/* What a name is looked up as. */
typedef enum { NAME_OF_VALUE, NAME_OF_SIZE, NAME_OF_PATTERN, NAME_OF_BLANK } NameUse;
/* The name's declaration; NULL once there is a finding, or where a used file that is missing may declare it. A
 * value may be of the kinds in the set, 0 for any; `spot` is where it stands. */
Declaration *find_name(Resolver *resolver, const Node *name, NameUse use, TypeSet set, ValueSpot spot);

/* Whether something goes by the name here. */
bool is_name_here(const Resolver *resolver, const Text *name);
/* The name of this use and kind that is nearest to the words; NULL if none is near. For mends. */
const char *nearest_name(Resolver *resolver, const char *words, NameUse use, TypeSet set);

/* The title, as it is written, of the rod that is nearest to it, other than this one, here and in the files used
 * here, or the only one that there is; NULL if none is near. For mends. */
const char *nearest_rod(Resolver *resolver, const Text *title, const Node *but);

/* The name of a thread that can be used here: the one wound nearby, or another that is known; NULL if none is. For
 * mends. */
const char *thread_nearby(Resolver *resolver);

/* The innermost local of this name; NULL if there is none. */
const Local *local_find(Resolver *resolver, const Text *name);
/* `cause`: of a broken kind. */
uint32_t local_enter(Resolver *resolver, const Text *name, unsigned type, Cause cause);
/* The part's name and its two ends, of which the first gets the slot. */
uint32_t part_enter(Resolver *resolver, const Text *name, Cause cause);
/* Which end the word names: 0 "butt", 1 "tip", -1 none. */
int part_end_named(const char *word);
/* Whether the node is such an end of a part of the rod. */
bool is_part_end(const Node *node);
/* A part that stands at a spot where a value of the set is wanted (0 for any), or with an end that it does not
 * have. */
void report_part_as_value(Resolver *resolver, Node *node, const Local *part, TypeSet set, ValueSpot spot);
/* An end of a part that is not known; true once that is told. */
bool report_unknown_part(Resolver *resolver, Node *node);
/* Forgets the locals above `count`. */
void local_leave(Resolver *resolver, uint32_t count);

/* Functions of the language: name, word, fewest and most arguments, how it is written. */
#define FUNCTION_TABLE(X)                                                                                         \
    X(COUNT, "count", 1, 1, "count(list)")                                                                        \
    X(FIRST, "first", 1, 1, "first(list)")                                                                        \
    X(LAST, "last", 1, 1, "last(list)")                                                                           \
    X(REST, "rest", 1, 1, "rest(list)")                                                                           \
    X(REVERSE, "reverse", 1, 1, "reverse(list)")                                                                  \
    X(ROUND, "round", 1, 1, "round(number)")                                                                      \
    X(FLOOR, "floor", 1, 1, "floor(number)")                                                                      \
    X(CEIL, "ceil", 1, 1, "ceil(number)")                                                                         \
    X(MIN, "min", 1, 1000, "min(one, other)")                                                                     \
    X(MAX, "max", 1, 1000, "max(one, other)")                                                                     \
    X(ABS, "abs", 1, 1, "abs(number)")                                                                            \
    X(WIDTH, "width", 2, 2, "width(turns, thread)")                                                               \
    X(SPACER, "spacer", 1, 1, "spacer(thread)")

typedef enum {
#define X(name, ...) FUNCTION_##name,
    FUNCTION_TABLE(X)
#undef X
        FUNCTION_NONE
} Function;
Function function_of(const char *name);

#endif
