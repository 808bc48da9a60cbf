#include "fuzz.h"

#include <jansson.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

void fuzz_fault(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fputs("FAULT ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    abort();
}

/* Files of the standard library that were wanted so far, read once a process. */
typedef struct StandardFile {
    char path[64];
    char *bytes; /* NULL: there is none of that name */
    size_t length;
} StandardFile;

static void read_standard_file(StandardFile *file)
{
    FILE *stream = fopen(file->path, "rb");
    enum { MOST = 1 << 16 };
    if (!stream)
        return;
    file->bytes = malloc(MOST);
    file->length = file->bytes ? fread(file->bytes, 1, MOST, stream) : 0;
    fclose(stream);
}

/* NULL for what is not of the standard library's form of name. */
static const StandardFile *standard_file(const char *wanted)
{
    static StandardFile files[64];
    const char *name = strncmp(wanted, "std/", 4) == 0 ? wanted + 4 : "";
    if (!*name || strlen(name) > 32 || strspn(name, "abcdefghijklmnopqrstuvwxyz") != strlen(name))
        return NULL;
    char path[64];
    snprintf(path, sizeof path, "stdlib/%s.lay", name);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        if (!files[i].path[0]) {
            strcpy(files[i].path, path);
            read_standard_file(&files[i]);
        }
        if (strcmp(files[i].path, path) == 0)
            return files[i].bytes ? &files[i] : NULL;
    }
    return NULL;
}

static void want_done(TurnlayStatus status, const char *entry)
{
    if (status != TURNLAY_DONE)
        fuzz_fault("%s: %s", entry, turnlay_status_words(status));
}

/* What C's functions print for a text that is none; and whether the input says it itself. */
static bool says_nothing(const char *bytes, size_t size)
{
    static const char nothing[] = "(null)";
    return size && memmem(bytes, size, nothing, strlen(nothing));
}
static bool nothing_given;

Compilation *fuzz_read(const char *bytes, size_t size)
{
    nothing_given = says_nothing(bytes, size);
    Compilation *compilation = turnlay_new();
    if (!compilation)
        fuzz_fault("no memory");
    want_done(turnlay_give(compilation, FUZZ_PATH, bytes, size), "turnlay_give");
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        const StandardFile *file = standard_file(want.path);
        if (file)
            want_done(turnlay_give(compilation, file->path, file->bytes, file->length), "turnlay_give");
        else
            want_done(turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "there is none"),
                      "turnlay_refuse");
    }
    return compilation;
}

/* What a builder could not act on: marks and edits beyond the text, and a sheet that its own replay refuses; but
 * that more spools feed at once than there are holders for is the builder's to mend, and found by the replay
 * alone. */
static void look_at_finding(const TurnlayFinding *finding, size_t size)
{
    bool spools = strstr(finding->message, "threads feed at once") != NULL;
    if (strcmp(finding->code, "T408") == 0 && !spools)
        fuzz_fault("replay refuses the sheet: %s; %s", finding->message, finding->at.label);
    bool inside = finding->at.start <= finding->at.end && finding->at.end <= size;
    if (strcmp(finding->at.file, FUZZ_PATH) == 0 && !inside)
        fuzz_fault("%s marks %u to %u of %zu bytes", finding->code, finding->at.start, finding->at.end, size);
    if (!finding->has_edit || strcmp(finding->edit.file, FUZZ_PATH) != 0)
        return;
    if (finding->edit.start > finding->edit.end || finding->edit.end > size)
        fuzz_fault("%s edits %u to %u of %zu bytes", finding->code, finding->edit.start, finding->edit.end, size);
}

Compilation *fuzz_plan(const char *bytes, size_t size, TurnlayStatus *status)
{
    Compilation *compilation = fuzz_read(bytes, size);
    *status = turnlay_finish(compilation);
    TurnlayPlace lost;
    if (*status == TURNLAY_LOST && turnlay_lost(compilation, &lost) == TURNLAY_LOST)
        fuzz_fault("left out in silence: line %u of %s", lost.line, lost.file);
    if (*status != TURNLAY_DONE && *status != TURNLAY_HAS_ERRORS)
        fuzz_fault("turnlay_finish: %s", turnlay_status_words(*status));
    TurnlayFinding finding;
    for (uint32_t i = 0; turnlay_finding(compilation, i, &finding) == TURNLAY_DONE; i++)
        look_at_finding(&finding, size);
    return compilation;
}

void fuzz_look_at_page(const char *name, TurnlayFormat format, TurnlayText page)
{
    const utf8proc_uint8_t *bytes = (const utf8proc_uint8_t *)page.bytes;
    for (size_t at = 0; at < page.length;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate(bytes + at, (utf8proc_ssize_t)(page.length - at), &character);
        if (length <= 0)
            fuzz_fault("%s: no UTF-8 at %zu", name, at);
        bool allowed = character == '\n' || (character == '\r' && format == TURNLAY_CSV)
                       || (character == 0x1b && format == TURNLAY_TERMINAL);
        if (character < 0x20 && !allowed)
            fuzz_fault("%s: control character %d at %zu", name, (int)character, at);
        at += (size_t)length;
    }
    if (!nothing_given && says_nothing(page.bytes, page.length))
        fuzz_fault("%s: a word that is none: %s", name, page.bytes);
    if (format != TURNLAY_JSON)
        return;
    json_error_t fault;
    json_t *json = json_loadb(page.bytes, page.length, JSON_REJECT_DUPLICATES, &fault);
    if (!json)
        fuzz_fault("%s: no JSON: %s, line %d", name, fault.text, fault.line);
    json_decref(json);
}
