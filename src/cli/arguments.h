/* The command line as one value. The tables of verbs and options here are also what --help prints. */
#ifndef TURNLAY_CLI_ARGUMENTS_H
#define TURNLAY_CLI_ARGUMENTS_H

#include "base/arena.h"
#include "turnlay.h"

#include <stdbool.h>

typedef enum {
    VERB_NONE,
    VERB_CHECK,
    VERB_PLAN,
    VERB_NEED,
    VERB_SHEET,
    VERB_DRAW,
    VERB_SHADES,
    VERB_GATHER,
    VERB_EXPLAIN,
    VERB_NEW,
    VERB_COUNT
} VerbKind;

typedef struct Verb {
    const char *name;
    const char *operands; /* as shown in the usage */
    const char *summary;
    unsigned fewest, most; /* operands */
    unsigned formats;      /* FORMAT_BIT of each that it writes; the first one where none is asked for */
} Verb;

#define FORMAT_TABLE(X)                                                                                           \
    X(TEXT, "text")                                                                                               \
    X(JSON, "json") X(CSV, "csv") X(HTML, "html") X(PDF, "pdf") X(SVG, "svg") X(PNG, "png") X(LAY, "lay")

typedef enum {
#define X(name, word) FORMAT_##name,
    FORMAT_TABLE(X)
#undef X
        FORMAT_COUNT
} Format;
#define FORMAT_BIT(format) (1u << (format))

extern const Verb verb_table[VERB_COUNT]; /* by VerbKind; the first row is empty */

/* An option: letter and name as getopt_long knows them, and the verbs that take it. */
typedef struct Option {
    int id;            /* the short letter, or a number above all letters */
    const char *name;  /* the long name, NULL if there is none */
    const char *value; /* what its value is called, NULL if it takes none */
    const char *shown; /* as help shows it */
    unsigned verbs;    /* VERB_BIT of each that takes it */
    const char *help;
} Option;

#define VERB_BIT(kind) (1u << (kind))
enum { OPTION_COUNT = 28 };
extern const Option option_table[]; /* OPTION_COUNT of them */

/* `--swap navy=plum`. */
typedef struct SwapGiven {
    const char *name, *with;
} SwapGiven;

/* `--measured` or `--mishap`. */
typedef struct HappenedGiven {
    bool is_mishap;
    TurnlayMeasured measured;
    TurnlayMishap mishap;
} HappenedGiven;

typedef struct Arguments {
    VerbKind verb;
    LIST_OF(const char *) operands; /* files, or the code of `explain` */
    LIST_OF(const char *) folders;  /* of -I, in their order */
    const char *output;             /* NULL for standard output */
    bool write_depfile;
    const char *depfile; /* NULL: named after the output */
    bool verbose, quiet, strict, kept, help, version;
    const char *findings_word; /* of --findings; NULL: not said */
    bool json_findings;
    const char *format_word; /* of --format; NULL: not said */
    Format format;           /* of the page: of check its findings */
    bool template;           /* instead of a view */
    TurnlayView view;
    TurnlayEyes eyes;
    double scale;
    double turned;       /* degrees, 0 <= turned < 360; NAN: not said */
    uint32_t width;      /* of a PNG, pixels; 0: not said */
    const char *rod;     /* its title, or its number counted from 1; NULL: not said */
    const char *section; /* its name; NULL: not said */
    TurnlayDepth depth;
    uint32_t from_step;              /* counted from 1; 0: not said */
    const char *record, *learned;    /* files; NULL: not said */
    LIST_OF(HappenedGiven) happened; /* of --measured and --mishap, in that order */
    LIST_OF(SwapGiven) swaps;        /* of --swap */
    const char *between[2];          /* of --between; NULL: not said */
    bool letter;                     /* US letter paper instead of A4 */
} Arguments;

/* formats.c: in which format a page is written, as --format or --findings says, else by the ending of the output's
 * name. */
/* "text, json or csv": the words of --format that the verb takes, the usual one first. */
typedef struct FormatChoices {
    char words[80];
} FormatChoices;
FormatChoices format_choices(VerbKind verb);

/* Sets arguments->format. false after having said what is wrong: a format that this verb does not write, an ending
 * that belongs to another, or two that do not go together. */
bool format_settle(Arguments *arguments);

/* measured.c: the value of --measured, "29=9.4mm", "19=1 3/8 in", "29=9.4mm after 61 turns", "29=9.4mm sure";
 * false after having said that it is none. */
bool measured_read(Arguments *arguments, Arena *arena, const char *word);

/* mishap_words.c: the value of --mishap, "14 broke after 5 turns", "14 loop torn, restart"; false after having
 * said that it is none. */
bool mishap_read(Arguments *arguments, Arena *arena, const char *word);

/* false after having said on standard error what is wrong. */
bool arguments_read(Arguments *arguments, Arena *arena, int count, char **words);

#endif
