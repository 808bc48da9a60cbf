/* The tree: a file as written, one node for each thing, each with its place in the source. */
#ifndef TURNLAY_SYNTAX_TREE_H
#define TURNLAY_SYNTAX_TREE_H

#include "base/span.h"
#include "base/text.h"
#include "base/units.h"

#include <stddef.h>

/* Name; then what `text`, `detail`, `first`, `second`, `options` and `body` hold, where anything. */
/* Values and their parts; first those that are leaves. */
#define NODE_VALUE_TABLE(X)                                                                                       \
    X(NUMBER)    /* number and unit; detail: Unit */                                                              \
    X(TEXT)      /* text */                                                                                       \
    X(COLOUR)    /* number: 0xRRGGBB */                                                                           \
    X(TRUTH)     /* detail: 1 for yes */                                                                          \
    X(FILL)      /* the extent that takes what is left */                                                         \
    X(NAME)      /* text; first: the module's name, if detail */                                                  \
    X(LIST)      /* first: items */                                                                               \
    X(SIGN)      /* detail: '-' or NOT; first: value */                                                           \
    X(OPERATION) /* detail: Operator; first: left; second: right */                                               \
    X(TURNS_OF)  /* first: a count that becomes turns */                                                          \
    X(RATE)      /* first: turns; second: the length they take */                                                 \
    X(PAIR)      /* first: turns in; second: turns out */                                                         \
    X(OPTION)    /* text: name; first: value; second: thread of an end band */                                    \
    X(ARGUMENT)  /* text: name or NULL; first: value */
/* What may stand in a body, well or badly; a call is a value too. */
#define NODE_STATEMENT_TABLE(X)                                                                                   \
    X(CALL)      /* first: name; arguments */                                                                     \
    X(BROKEN)    /* in the place of what could not be read */                                                     \
    X(BAND)      /* first: extent; second: thread; options; body: inlays */                                       \
    X(INLAY)     /* first: extent; second: thread; options */                                                     \
    X(FADE_TO)   /* second: thread; options */                                                                    \
    X(FADE_OF)   /* first: extent; second: threads; options */                                                    \
    X(GAP)       /* first: extent; second: thread or NULL */                                                      \
    X(CHEVRON)   /* options; one may have a second: its thread; body: strands */                                  \
    X(DIAMOND)   /* options; body: strands */                                                                     \
    X(SPIRAL)    /* options; body: strands */                                                                     \
    X(STRAND)    /* first: count or FILL; second: thread */                                                       \
    X(REPEAT)    /* first: count; body */                                                                         \
    X(MIRROR)    /* body */                                                                                       \
    X(SYMMETRIC) /* body */                                                                                       \
    X(FOR)       /* first: list or first count; second: last count; options: name; body */                        \
    X(IF)        /* first: truth; second: IF or BLOCK that follows else; body */                                  \
    X(REQUIRE)   /* first: truth; second: text or NULL */                                                         \
    X(LET)       /* first: value; second: name */                                                                 \
    X(UNDER)     /* options; body */                                                                              \
    X(OVER)      /* options; body */                                                                              \
    X(PLACE) /* first: mark; detail: 1 if it has braces; second: the guide behind a colon, or NULL; options; body \
              */                                                                                                  \
    X(SERIES) /* options; body: places without braces, and what stands in all others */                           \
    X(PART)   /* first: name; second: mark; options */
/* Parts of statements, places and declarations. */
#define NODE_REST_TABLE(X)                                                                                        \
    X(BLOCK)     /* body */                                                                                       \
    X(STATION)   /* first: mark; second: diameter */                                                              \
    X(EDITION)   /* first: number */                                                                              \
    X(ABOUT)     /* options */                                                                                    \
    X(USE)       /* first: path, then options; second: name or NULL; body: declarations, if detail */             \
    X(SIZE)      /* first: name; options */                                                                       \
    X(THREAD)    /* first: name; options */                                                                       \
    X(GUIDE)     /* first: name; options */                                                                       \
    X(BENCH)     /* options */                                                                                    \
    X(BLANK)     /* first: name; options; body: stations */                                                       \
    X(PATTERN)   /* first: name; options: parameters; body */                                                     \
    X(PARAMETER) /* text: name; first: default or NULL; second: kind */                                           \
    X(ROD)       /* first: title, then that of the rod it is like; second: blank, LIST or NULL; options; body:    \
                    statements; swaps if it is like another */                                                    \
    X(SWAP)      /* first: name; second: what stands for it */
#define NODE_TABLE(X) NODE_VALUE_TABLE(X) NODE_STATEMENT_TABLE(X) NODE_REST_TABLE(X)

typedef enum {
#define X(name) NODE_##name,
    NODE_TABLE(X)
#undef X
        NODE_KIND_COUNT
} NodeKind;

/* Name, and as it is written. */
#define OPERATOR_TABLE(X)                                                                                         \
    X(OR, "or")                                                                                                   \
    X(AND, "and")                                                                                                 \
    X(EQUAL, "==")                                                                                                \
    X(UNEQUAL, "!=")                                                                                              \
    X(LESS, "<")                                                                                                  \
    X(LESS_EQUAL, "<=")                                                                                           \
    X(GREATER, ">")                                                                                               \
    X(GREATER_EQUAL, ">=")                                                                                        \
    X(ADD, "+")                                                                                                   \
    X(SUBTRACT, "-")                                                                                              \
    X(MULTIPLY, "*")                                                                                              \
    X(DIVIDE, "/")                                                                                                \
    X(MINUS, "-")                                                                                                 \
    X(NOT, "not")

typedef enum {
#define X(name, spelling) OPERATOR_##name,
    OPERATOR_TABLE(X)
#undef X
} Operator;

/* Of what the table says of a kind, nothing shares a place: names and calls have a target and no second, a `use`
 * has no options, and what has a text or number has no body. A large file has a node for every eight bytes of
 * text, half of them leaves, which end before `first`: NODE_LEAF bytes. */
typedef struct Node Node;
struct Node {
    uint8_t kind;   /* NodeKind */
    uint8_t detail; /* see the table */
    uint8_t type;   /* of a value: Type, set by meaning */
    uint8_t scope;  /* of a name or call: where meaning found it */
    uint32_t slot; /* of a name: which local; of a `use`: where its { stands; of a statement: what meaning notes */
    Span span;
    uint32_t cause; /* Cause: why it is broken or left out; 0 if it is sound */
    Node *next;     /* the one after it in its list */
    union {
        const Text *text;
        double number;
        Node *body;
    };
    union {
        Node *second;
        const void
            *target; /* of a name or call: the declaration meant, set by meaning; of a declared name, its own */
    };
    Node *first; /* not in a leaf */
    union {
        Node *options; /* not in a leaf */
        uint64_t mark; /* of a `use`: hash of what stands in its braces, as Tree.mark is of a file */
    };
};
enum { NODE_LEAF = offsetof(Node, first) };
_Static_assert(NODE_LEAF == 48 && sizeof(Node) == 64, "the tree is most of what a large file takes");

/* Whether it has no parts; of a name in a module, only that is one. */
static inline bool is_leaf(const Node *node) { return node->kind <= NODE_NAME; }
/* The module's name before that of what is in it; NULL if there is none. */
static inline const Node *module_name(const Node *name) { return name->detail ? name->first : NULL; }

typedef struct Tree {
    Node *declarations;
    Node *edition;     /* or NULL */
    Unit first_length; /* of the file's own first length, not one of a used file's; UNIT_NONE if there is none */
    uint64_t mark;     /* hash of the words of its declarations, except each `use` */
    uint32_t file;
    uint32_t cause; /* Cause: why parts of the text are not in the tree; 0 if all are */
} Tree;

#endif
