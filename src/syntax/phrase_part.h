/* The parts of a phrase that are no words of their own: which tokens they take in. */
#ifndef TURNLAY_SYNTAX_PHRASE_PART_H
#define TURNLAY_SYNTAX_PHRASE_PART_H

#include "syntax/phrase.h"

/* Name as it stands in a phrase, and what it takes in. From START on they only look, and take in nothing. */
#define PART_CLASS_TABLE(X)                                                                                       \
    X(NAME)       /* a name, of a used file too */                                                                \
    X(WORD)       /* any word */                                                                                  \
    X(COUNT)      /* a number without a unit */                                                                   \
    X(LENGTH)     /* a number with a unit of length */                                                            \
    X(TURNS)      /* a number of turns */                                                                         \
    X(NUMBER)     /* any number */                                                                                \
    X(VALUE)      /* a value, without comparisons */                                                              \
    X(TEXT)       /* a text in quotes */                                                                          \
    X(COLOUR)     /* a colour */                                                                                  \
    X(COLOURS)    /* two colours or more, by digits or names, with commas between */                              \
    X(LABEL)      /* an option */                                                                                 \
    X(KIND)       /* a kind of parameters */                                                                      \
    X(PERUNIT)    /* `per cm` */                                                                                  \
    X(INSIDE)     /* what stands in brackets, up to the closing one */                                            \
    X(LINE)       /* what is left of the line, or nothing */                                                      \
    X(HEADER)     /* what is left on the line before { */                                                         \
    X(WORDS)      /* words and numbers, two at least, with or without hyphens */                                  \
    X(DECLARED)   /* words that make a known name together */                                                     \
    X(NUMBERWORD) /* a number in letters */                                                                       \
    X(ANY)        /* any token */                                                                                 \
    X(NAMES)      /* two threads or more, with a comma, `to` or `and` between */                                  \
    X(LABELS)     /* options with their values */                                                                 \
    X(OPTIONS)    /* the same, of statements */                                                                   \
    X(ARGUMENTS)  /* up to the next statement */                                                                  \
    X(PARAMETER)  /* a name that stands as an option somewhere, and is no thread */                               \
    X(FEET)       /* a number of feet */                                                                          \
    X(REST)       /* up to the next option or statement */                                                        \
    X(GROUP)      /* a number of three digits */                                                                  \
    X(LOOKALIKE)  /* a word of digits and letters like them */                                                    \
    X(OPTION)     /* an option of a statement, without its colon */                                               \
    X(UNDECLARED) /* a name that is not declared */                                                               \
    X(LIST)       /* a name of threads */                                                                         \
    X(CALLED)     /* the name of a pattern */                                                                     \
    X(MODULE)     /* the name of a used file */                                                                   \
    X(THREAD)     /* a name that is declared */                                                                   \
    X(START)      /* where a statement can begin */                                                               \
    X(WITHIN)     /* where none can */                                                                            \
    X(FIRST)      /* at the beginning of a line */                                                                \
    X(EOL)        /* at the end of a line */                                                                      \
    X(APART)      /* with a blank before */                                                                       \
    X(NEXT)       /* where nothing more of the statement comes */                                                 \
    X(NEAR)       /* with no blank before */                                                                      \
    X(OPENED)     /* behind a parenthesis that opens, or a comma */

typedef enum {
#define X(name) CLASS_##name,
    PART_CLASS_TABLE(X)
#undef X
        CLASS_NONE
} PartClass;

#define NO_MATCH UINT32_MAX

/* CLASS_NONE if it is a word. */
PartClass part_class(const char *name, size_t length);
/* The token behind those of the class that begin at `at`; NO_MATCH if none do. */
uint32_t class_end(Reader *reader, PartClass class, uint32_t at);

#endif
