/* Compiles files and writes their pages, for a tool of valgrind that counts instructions at a process's end: each
 * part in a process of its own, forked from this one, which has run through the code already, so that the tool
 * need not translate it again for each.
 *
 *     valgrind --tool=cachegrind --cache-sim=no --cachegrind-out-file=/dev/null count_pages ONCE... -- FILE...
 *
 * ONCE are run through first, not counted. For each part of a FILE a line on standard output, FILE, a tab, the
 * part, just before its process ends: the last of a file is "compile", whose instructions the others begin with.
 * The first and last lines are of processes that do nothing. A used file is sought beside the file that uses it.
 */
#include "turnlay.h"

#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

typedef void Part(TurnlayCompilation *compilation);

/* Whatever page there is; of a file with errors there are none but findings. */
static void done(TurnlayStatus status, TurnlayText *page)
{
    if (status == TURNLAY_OUT_OF_MEMORY)
        exit(3);
    turnlay_text_free(page);
}

static void write_findings_and_gathered(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_findings(compilation, TURNLAY_TEXT, &page), &page);
    done(turnlay_write_findings(compilation, TURNLAY_JSON, &page), &page);
    done(turnlay_write_gathered(compilation, &page), &page);
}

static void write_plan(TurnlayCompilation *compilation)
{
    TurnlayText page;
    for (int format = TURNLAY_TEXT; format <= TURNLAY_CSV; format++) {
        done(turnlay_write_plan(compilation, (TurnlayFormat)format, &page), &page);
        done(turnlay_write_need(compilation, (TurnlayFormat)format, &page), &page);
    }
}

static void write_sheet_text(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, &page), &page);
}

static void write_sheet_html(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_sheet(compilation, TURNLAY_HTML, 1, &page), &page);
}

static void write_sheet_json(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_sheet(compilation, TURNLAY_JSON, 1, &page), &page);
}

static void write_pictures(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, &page), &page);
    done(turnlay_write_drawing(compilation, 0, TURNLAY_UNROLLED, 1, NAN, &page), &page);
    done(turnlay_write_template(compilation, 0, &page), &page);
}

static void write_whole_rod(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_drawing(compilation, 0, TURNLAY_ROD, 1, NAN, &page), &page);
    done(turnlay_write_drawing(compilation, 0, TURNLAY_PRESENTATION, 1, 20, &page), &page);
}

static void write_eye_view(TurnlayCompilation *compilation)
{
    TurnlayText page;
    done(turnlay_write_drawing(compilation, 0, TURNLAY_EYE, TURNLAY_EYE_SCALE, NAN, &page), &page);
}

static const struct {
    const char *name;
    Part *write;
} parts[] = {
    {"findings, gathered", write_findings_and_gathered},
    {"plan, need", write_plan},
    {"sheet text", write_sheet_text},
    {"sheet html", write_sheet_html},
    {"sheet json", write_sheet_json},
    {"pictures", write_pictures},
    {"eye's view", write_eye_view},
    {"whole rod", write_whole_rod},
};
enum { PARTS = sizeof parts / sizeof *parts };

/* The bytes of the file, to be freed; NULL if it cannot be read. */
static char *read_file(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return NULL;
    fseek(file, 0, SEEK_END);
    *length = (size_t)ftell(file);
    rewind(file);
    char *bytes = malloc(*length + 1);
    if (!bytes || fread(bytes, 1, *length, file) != *length)
        exit(3);
    fclose(file);
    return bytes;
}

static void give_used(TurnlayCompilation *compilation, TurnlayWant want)
{
    char path[4096];
    const char *stroke = strrchr(want.from, '/');
    snprintf(path, sizeof path, "%.*s%s.lay", stroke ? (int)(stroke - want.from) + 1 : 0, want.from, want.path);
    size_t length;
    char *bytes = read_file(path, &length);
    if (bytes)
        turnlay_give(compilation, path, bytes, length);
    else
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "it is not beside this one");
    free(bytes);
}

static TurnlayCompilation *compile(const char *path, TurnlayStatus *status)
{
    size_t length;
    char *bytes = read_file(path, &length);
    TurnlayCompilation *compilation = turnlay_new();
    if (!bytes || !compilation)
        exit(3);
    turnlay_give(compilation, path, bytes, length);
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;)
        give_used(compilation, want);
    *status = turnlay_finish(compilation);
    free(bytes);
    return compilation;
}

static void run_through(const char *path)
{
    TurnlayStatus status;
    TurnlayCompilation *compilation = compile(path, &status);
    for (int i = 0; i < PARTS; i++)
        parts[i].write(compilation);
    turnlay_free(compilation);
}

/* Whether this is the new process; the old one goes on when that has ended. */
static bool apart(void)
{
    pid_t process = fork();
    if (process < 0)
        exit(3);
    int how = 0;
    if (process > 0 && (waitpid(process, &how, 0) != process || how))
        exit(3);
    return process == 0;
}

static void say(const char *path, const char *part)
{
    printf("%s\t%s\n", path, part);
    fflush(stdout);
}

static _Noreturn void tell(const char *path, const char *part)
{
    say(path, part);
    _exit(0);
}

static void count(const char *path)
{
    if (!apart())
        return;
    TurnlayStatus status;
    TurnlayCompilation *compilation = compile(path, &status);
    for (int i = 0; i < PARTS; i++)
        if ((i == 0 || status == TURNLAY_DONE) && apart()) {
            parts[i].write(compilation);
            tell(path, parts[i].name);
        }
    tell(path, status == TURNLAY_DONE ? "compile" : "compile with errors");
}

int main(int words, char **word)
{
    /* Blocks come from the system and go back to it, so that no part finds what another has left behind. */
    mallopt(M_MMAP_THRESHOLD, 16 * 1024);
    mallopt(M_MMAP_MAX, 1 << 20);
    say("file", "part");
    int i = 1;
    for (; i < words && strcmp(word[i], "--") != 0; i++)
        run_through(word[i]);
    if (apart())
        tell("", "nothing");
    for (i++; i < words; i++)
        count(word[i]);
    if (apart())
        tell("", "nothing");
    return 0;
}
