/* Every limit of the program, with its reason. The reference prints the same numbers. */
#ifndef TURNLAY_BASE_LIMITS_H
#define TURNLAY_BASE_LIMITS_H

/* A file is text written by hand; offsets are 32 bits; 16 MiB is five hundred thick books. The densest text, a
 * list of one figure after another, takes 45 bytes a byte, and twice as much where all of it is wrong: below 1
 * GiB. */
#define LIMIT_FILE_BYTES (16u << 20)
/* All files of one compilation together, for the same reason. */
#define LIMIT_ALL_BYTES LIMIT_FILE_BYTES
/* Files in one compilation: a shop's whole library is some dozens. */
#define LIMIT_FILES 256
/* Used files that cannot be had, before the rest is not sought any more: each is a search on a disk, and of so
 * many findings nobody needs more. Below LIMIT_FINDINGS, so that it is told. */
#define LIMIT_MISSING_FILES 50
/* Braces, brackets and parentheses inside one another: bounds every recursion over the tree. */
#define LIMIT_NESTING 64
/* Brackets and braces open at one time, where nothing more is read: the parser has long given up, and a file of
 * nothing else must not take memory for each. */
#define LIMIT_OPEN 100000
/* Terms in one expression hang below one another too; evaluating must not exhaust the stack. */
#define LIMIT_EXPRESSION_DEPTH 1000
/* Patterns calling one another, and rods like one another; they cannot recurse, so this is deep already. */
#define LIMIT_CALL_DEPTH 64
/* Widths read at the bench, of one job: more than a hundred times those of any example. Each plans a layer anew.
 */
#define LIMIT_READINGS 4096
/* Threads whose width is learned from them: what is known of one may hang together with that of any other, so that
 * memory and work grow with the square. Nobody winds with more on one rod. */
#define LIMIT_LEARNED 256
/* Runs of all plans that are made anew, one with each thing that happened at the bench: each takes some kB until
 * the page is made. */
#define LIMIT_RUNS_AGAIN 524288
/* A job's record: more than a hundred times that of any example. */
#define LIMIT_RECORD_BYTES (1u << 20)
/* Things that happened, rows of ticked steps, lots, notes: as many as widths. */
#define LIMIT_RECORD_ENTRIES LIMIT_READINGS
/* Characters of a name, a lot or a date in a record, and of a note: what fits a line, and a sheet beside its step.
 */
#define LIMIT_RECORD_LINE 200
#define LIMIT_RECORD_NOTE 1000
/* Turns in all plans of a file: more than a kilometre of blank close laid. */
#define LIMIT_TURNS 10000000
/* Runs in all plans of a file, each thread of those wound together counted: three hundred times those of a rod
 * wound for months. At 1 kB a run for a check and some 10 kB for a page memory stays below 1 GiB. A power of two,
 * since arrays double. */
#define LIMIT_RUNS 65536
/* Bands, fades, gaps and inlays laid out of a file's statements: each makes a run at least. */
#define LIMIT_ITEMS LIMIT_RUNS
/* Places laid out of a file's statements: a rod has some dozen, and each takes some kB for a page. */
#define LIMIT_PLACES 65536
/* Statements and parts of values evaluated, elements of lists handled, locals of patterns called: a loop without
 * output ends too, and what each of them makes (some 50 bytes) stays below some hundred MiB in all. */
#define LIMIT_STEPS 5000000
/* Layers on one place, and parameters of one pattern: nobody works with so many; some work grows with their
 * square. */
#define LIMIT_LAYERS 64
#define LIMIT_PARAMETERS 64
/* Sections of one rod: travel rods come in up to eight or so. */
#define LIMIT_SECTIONS 32
/* Turns of a fade that are chosen by eye: what the search holds grows with them. A fade by steps of as many is
 * wider than any that is wound. */
#define LIMIT_CHOSEN_TURNS 500
/* Each of them counts as so many of these steps, once for fades that are alike: to find first turns takes as long.
 */
#define STEPS_A_CHOSEN_TURN 100
/* Tries in search of better turns, for one fade and for all of a file: they end within a second and some. */
#define LIMIT_FADE_NODES 1000000
#define LIMIT_FADES_NODES 4000000
/* Colours of a variegated thread, each a part of its period. */
#define LIMIT_COLOURS 64
/* Threads whose colours are compared with one another, each with each: a shop's whole wall of spools. Some seconds
 * of a processor. */
#define LIMIT_SHADES 1000
/* Of those that would be mistaken, pairs on a page: nobody sorts more. */
#define LIMIT_SHADE_PAIRS 1000
/* Turns of a file's fades that are looked at as the eye sees them, equal fades once: each takes some thousand
 * instructions, and the fades of a rod have some hundred. */
#define LIMIT_TURNS_SEEN 1000000
/* Passes of all crosswraps of a file: a closed field of the thickest blank has some hundred. */
#define LIMIT_PASSES 20000
/* What pictures and templates of a file's crosswraps grow with: crossings (of a spiral, turns) of each `strand`
 * line on each side and start, a variegated thread's strands one by one. The largest wrap that anybody winds has
 * some thousand. */
#define LIMIT_CROSSINGS 250000
/* Steps on the bench sheets of a file: more than two hundred times those of any example. A step takes some 250
 * bytes, and its words as much again. */
#define LIMIT_BENCH_STEPS 262144
/* Bytes of a page: two hundred times the largest of the examples, and more than any browser shows with ease. */
#define LIMIT_PAGE_BYTES (192u << 20)
/* Memory in which a page is made: its words, pictures and bytes. With what a check takes and the page that is
 * handed over, memory stays below 1 GiB. */
#define LIMIT_PAGE_MEMORY (512u << 20)
/* Letters and points of lines on a PDF: twenty times those of a rod of nine guides. Each takes up to ten thousand
 * instructions until it is on paper; letters and texts that take longer count for more (pdf_text.c). */
#define LIMIT_PRINTED 3500000
/* Pixels of a picture, and rows of them: a page of A4 at 800 dots an inch. At four bytes each, and with as much
 * again where a picture of noise is packed, memory stays below 1 GiB; painting and packing take some seconds. More
 * rows cairo does not take. */
#define LIMIT_PIXELS 60000000
#define LIMIT_PIXEL_ROWS 32767
/* Seconds of a processor for what is painted with cairo: ten times what the largest page takes. The library that
 * looks for fonts goes on for ever where it finds too little memory. */
#define LIMIT_PRINT_SECONDS 120
/* Findings kept: nobody mends more in one go. */
#define LIMIT_FINDINGS 100
/* Findings made, those again of the same place too, before no more is evaluated: each takes memory for its words,
 * shown or not. */
#define LIMIT_FINDINGS_MADE 10000
/* Digits of a number: all doubles of 15 digits survive the way in and out. */
#define LIMIT_DIGITS 15
/* Widths measured at the bench stay below this, in mm: no wrap is ten kilometres wide. */
#define LIMIT_MEASURED 1e7
/* Turns at which a splice is tried, from the first that leaves an end to hold: each try plans the file again. */
#define LIMIT_SPLICES_TRIED 16
/* Largest magnitude a value may take (mm, turns, counts): far beyond any rod, far below overflow. */
#define LIMIT_MAGNITUDE 1e12

#endif
