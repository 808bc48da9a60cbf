/* Compilations in several threads at once, under the thread sanitizer: none touches what another does, and each
 * gives the pages that it gives alone. A line for each file and thread says what its pages are, by a hash. With
 * the word `alone` there is one thread; that needs no sanitizer, under which everything takes ten times as long.
 * With the word `race` two threads share a number unguarded instead, which the sanitizer must see: a test that
 * cannot fail proves nothing. threads race | alone FILE... | together FILE... */
#include <turnlay.h>

#include <inttypes.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { THREADS = 2, LARGEST = 1 << 20, FILES = 1000, PAGES = 14 };

static struct {
    char *text;
    size_t length;
} files[FILES];
static int file_count;
static int shared;

static TurnlayStatus write_page(TurnlayCompilation *compilation, int number, TurnlayText *page)
{
    switch (number) {
    case 0: return turnlay_write_findings(compilation, TURNLAY_TERMINAL, page);
    case 1: return turnlay_write_findings(compilation, TURNLAY_JSON, page);
    case 2: return turnlay_write_plan(compilation, TURNLAY_TEXT, page);
    case 3: return turnlay_write_plan(compilation, TURNLAY_JSON, page);
    case 4: return turnlay_write_plan(compilation, TURNLAY_CSV, page);
    case 5: return turnlay_write_need(compilation, TURNLAY_TEXT, page);
    case 6: return turnlay_write_need(compilation, TURNLAY_JSON, page);
    case 7: return turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, page);
    case 8: return turnlay_write_sheet(compilation, TURNLAY_HTML, 1, page);
    case 9: return turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, page);
    case 10: return turnlay_write_template(compilation, 0, page);
    case 11: return turnlay_write_shades(compilation, TURNLAY_TEXT, page);
    case 12: return turnlay_write_shades_drawing(compilation, page);
    default: return turnlay_write_gathered(compilation, page);
    }
}

/* FNV-1a over all pages of a file. */
static uint64_t pages_of(int file)
{
    uint64_t hash = 0xcbf29ce484222325u;
    TurnlayCompilation *compilation = turnlay_new();
    turnlay_give(compilation, "file.lay", files[file].text, files[file].length);
    while (turnlay_want(compilation).path)
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "nothing else is there");
    turnlay_finish(compilation);
    for (int number = 0; number < PAGES; number++) {
        TurnlayText page;
        hash = (hash ^ (uint64_t)write_page(compilation, number, &page)) * 0x100000001b3u;
        for (size_t i = 0; i < page.length; i++)
            hash = (hash ^ (unsigned char)page.bytes[i]) * 0x100000001b3u;
        turnlay_text_free(&page);
    }
    turnlay_free(compilation);
    return hash;
}

/* All go through the same files, once: the sanitizer remembers who touched what, so that none need meet in time.
 */
static void *work(void *hashes)
{
    for (int file = 0; file < file_count; file++)
        ((uint64_t *)hashes)[file] = pages_of(file);
    return NULL;
}

/* The other way round, so that what an earlier compilation left behind would show as well. */
static void work_alone(uint64_t *hashes)
{
    for (int file = file_count - 1; file >= 0; file--)
        hashes[file] = pages_of(file);
}

static void *race(void *unused)
{
    for (int i = 0; i < 100000; i++)
        shared++;
    return unused;
}

static void read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *text = malloc(LARGEST);
    if (!file || !text || file_count == FILES) {
        fprintf(stderr, "%s cannot be read\n", path);
        exit(3);
    }
    files[file_count].text = text;
    files[file_count++].length = fread(text, 1, LARGEST, file);
    fclose(file);
}

static void run_together(void *(*job)(void *), uint64_t (*hashes)[FILES])
{
    pthread_t threads[THREADS];
    for (int i = 0; i < THREADS; i++)
        if (pthread_create(&threads[i], NULL, job, hashes[i]) != 0)
            exit(3);
    for (int i = 0; i < THREADS; i++)
        pthread_join(threads[i], NULL);
}

int main(int count, char **words)
{
    static uint64_t hashes[THREADS][FILES];
    const char *how = count > 1 ? words[1] : "";
    if (strcmp(how, "race") == 0) {
        run_together(race, hashes);
        return 0;
    }
    for (int i = 2; i < count; i++)
        read_file(words[i]);
    int threads = strcmp(how, "alone") == 0 ? 1 : THREADS;
    if (threads == 1)
        work_alone(hashes[0]);
    else
        run_together(work, hashes);
    for (int file = 0; file < file_count; file++) {
        for (int i = 0; i < threads; i++)
            printf("%016" PRIx64 " %s\n", hashes[i][file], words[file + 2]);
        free(files[file].text);
    }
    return file_count ? 0 : 1;
}
