/* Reading: text to tree, and the tree gathered into one text again, which must read as the same pattern. */
#include "fuzz.h"
#include "reading.h"

#include <stdlib.h>
#include <string.h>

static Module *main_module(const Compilation *compilation) { return compilation->reading->modules.list.items[0]; }

static char *gather(Compilation *compilation, size_t *length)
{
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fuzz_fault("no memory");
    Buffer page = answer_start(compilation);
    canonical_gather(compilation, NULL, &page);
    trap_clear(&compilation->trap);
    char *text = malloc(page.length + 1);
    if (!text)
        fuzz_fault("no memory");
    *length = page.length;
    if (page.length)
        memcpy(text, page.bytes, page.length);
    arena_end(&compilation->page_arena);
    return text;
}

/* Of a circle of files there is no canonical form. */
static bool sound(Compilation *compilation)
{
    return !compilation->findings.errors && !module_circle(main_module(compilation), &compilation->findings);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    Compilation *compilation = fuzz_read((const char *)bytes, size);
    if (sound(compilation)) {
        size_t length;
        char *gathered = gather(compilation, &length);
        Compilation *again = fuzz_read(gathered, length);
        if (again->findings.errors)
            fuzz_fault("gathered it has errors:\n%.*s", (int)length, gathered);
        if (canonical_hash(compilation, main_module(compilation)) != canonical_hash(again, main_module(again)))
            fuzz_fault("gathered it is another pattern:\n%.*s", (int)length, gathered);
        turnlay_free(again);
        free(gathered);
    }
    turnlay_free(compilation);
    return 0;
}
