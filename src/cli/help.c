#include "cli/help.h"

#include "base/table.h"

static const char exit_codes[] =
    "Exit codes: 0 done (warnings and notes may be there; also where head or a pager stops reading),\n"
    "1 errors in a file, 2 wrong use (also a FILE that is not there or cannot be read),\n"
    "3 the machine failed (disk full, no memory, output not writable), or turnlay itself did.\n";

static const char files[] =
    "FILE - is standard input. Used files are looked for beside the file that uses them, in the root of its\n"
    "project (the nearest folder above it with a file turnlay.root), in the folders of -I, in those of\n"
    "TURNLAY_PATH (with colons between them), and then, if their names begin with std/, in the standard\n"
    "library. A file is replaced whole or not at all, and never one that was read;\n"
    "what is open already (/dev/stdout), a device or a named pipe is written to. The ending of its name\n"
    "says what is written: .txt, .json, .csv, .html or .htm, .pdf, .svg, .lay, in small or capital letters,\n"
    "as far as the verb writes it.\n";

#define DETAILS(X)                                                                                                   \
    X(CHECK, "Findings go to standard output. Notes are one line for each rod; -v shows them whole.\n")              \
    X(PLAN, "Findings go to standard error. A file with errors or without a rod gives no plan. Each of\n"            \
            "several files is planned by itself, one after the other.\n")                                            \
    X(SHEET,                                                                                                         \
      "Findings go to standard error. A file with errors or without a rod gives no sheet. The html page\n"           \
      "works from disk, also on a phone; the pdf holds marking strips and, of crosswraps, templates to\n"            \
      "roll round the blank, at true size: print it at 100 %. --mishap is a step and \"broke after 5 turns\",\n"     \
      "\"spool empty after 5 turns\", \"unwound to turn 300\", \"loop torn\" or \"tag out\"; with \", splice\" or\n" \
      "\", restart\" behind it for one of the two ways. The sheet goes on from there.\n")                            \
    X(NEED, "Findings go to standard error. A file with errors gives no needs. Each of several files is\n"           \
            "counted by itself, one after the other.\n")                                                             \
    X(DRAW,                                                                                                          \
      "Findings go to standard error. A file with errors or without a rod gives no picture. Of\n"                    \
      "several rods the first is drawn unless --rod says which. The views: rod shows all of it in rows,\n"           \
      "with close-ups of its wraps; presentation is the same for a customer; side and unrolled show each\n"          \
      "place with its counts of turns and a ruler; eye shows wraps as they are seen in the hand and across\n"        \
      "the room, magnified; template is a crosswrap's, to cut out. --turn goes with all but unrolled and\n"          \
      "template; --eyes with all. An svg is sharp at any size; a png is for where only pixels are taken.\n")         \
    X(SHADES,                                                                                                        \
      "Findings go to standard error. A file with errors gives no shades; it needs no rod. Of two threads\n"         \
      "the page says which of the file's own lie between them, which order makes the smallest steps, where\n"        \
      "a shade is missing and which colour it has, and which would be mistaken under the lamp. Without\n"            \
      "--between it lists all threads, each with the one that is most like it. --eyes says who looks: with all\n"    \
      "cones the page lists what any eyes would mistake, without some what those eyes would.\n")                     \
    X(GATHER, "Findings go to standard error. The result compiles to the same plan without any other file,\n"        \
              "and is fit for sending.\n")                                                                           \
    X(EXPLAIN, "CODE is that of a finding, such as T101; 101 is enough.\n")                                          \
    X(NEW, "NAME gets the ending .lay if it has none; - prints the pattern instead. A file that is there\n"          \
           "already stays as it is.\n")

static const char *const details[VERB_COUNT] = {
#define X(name, ...) [VERB_##name] = __VA_ARGS__,
    DETAILS(X)
#undef X
};
_Static_assert(TABLE_ROWS(DETAILS) == VERB_COUNT - 1, "every verb has its details");

/* All others have no options but --help. */
static bool takes_files(VerbKind verb) { return verb != VERB_EXPLAIN && verb != VERB_NEW; }

static void one_usage(Buffer *out, VerbKind verb)
{
    buffer_format(out, "turnlay %s %s%s\n", verb_table[verb].name, takes_files(verb) ? "[OPTION...] " : "",
                  verb_table[verb].operands);
}

void help_usage(Buffer *out, VerbKind verb)
{
    if (verb) {
        buffer_text(out, "usage: ");
        one_usage(out, verb);
        buffer_format(out, "       turnlay %s --help\n", verb_table[verb].name);
        return;
    }
    for (VerbKind each = VERB_CHECK; each < VERB_COUNT; each++) {
        buffer_text(out, each == VERB_CHECK ? "usage: " : "       ");
        one_usage(out, each);
    }
    buffer_text(out, "       turnlay [VERB] --help\n");
}

static void list_options(Buffer *out, VerbKind verb)
{
    buffer_text(out, "\nOptions, anywhere on the line:\n");
    for (unsigned i = 0; i < OPTION_COUNT; i++) {
        if (!(option_table[i].verbs & VERB_BIT(verb)))
            continue;
        buffer_text(out, "  ");
        buffer_column(out, option_table[i].shown, 18);
        if (option_table[i].id == 'F')
            buffer_format(out, "  %s; %s\n", format_choices(verb).words, option_table[i].help);
        else
            buffer_format(out, "  %s\n", option_table[i].help);
    }
}

static void program_page(Buffer *out)
{
    buffer_text(out, "turnlay plans decorative thread wraps for fishing rods from pattern files.\n\n");
    help_usage(out, VERB_NONE);
    buffer_text(out, "\nVerbs:\n");
    for (VerbKind each = VERB_CHECK; each < VERB_COUNT; each++) {
        buffer_text(out, "  ");
        buffer_column(out, verb_table[each].name, 18);
        buffer_format(out, "  %s\n", verb_table[each].summary);
    }
    list_options(out, VERB_NONE);
    buffer_format(out, "\n%s", exit_codes);
}

void help_page(Buffer *out, VerbKind verb)
{
    if (!verb) {
        program_page(out);
        return;
    }
    help_usage(out, verb);
    buffer_format(out, "\nturnlay %s: %s.\n%s", verb_table[verb].name, verb_table[verb].summary, details[verb]);
    list_options(out, verb);
    buffer_format(out, "\n%s%s", takes_files(verb) ? files : "", exit_codes);
}
