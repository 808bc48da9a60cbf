/* The canonical form: what makes two pattern files the same pattern. And the file that holds all it uses. */
#include "reading.h"

#include "base/limits.h"

static const Source *source_of(const Compilation *compilation, const Module *module)
{
    return &compilation->sources.list.items[module->tree->file];
}

/* Where the module's own text lies: the whole file, or what stands between a `use`'s braces. */
static void text_of_module(const Compilation *compilation, const Module *module, uint32_t *start, uint32_t *end)
{
    const Node *use = module->holder;
    *start = use ? use->slot + 1 : 0;
    *end = use ? use->span.end - 1 : source_of(compilation, module)->length;
}

/* The options of a `use`: texts, names and lists of them. Whatever else is written there is a finding. */
static uint64_t hash_options(uint64_t hash, const Node *list)
{
    for (const Node *node = list; node; node = node->next) {
        bool named = node->kind == NODE_OPTION || node->kind == NODE_NAME || node->kind == NODE_TEXT;
        hash = hash_word(hash, named ? node->text->hash : node->kind);
        if (node->kind == NODE_OPTION || node->kind == NODE_LIST)
            hash = hash_options(hash, node->first);
    }
    return hash;
}

/* What is used, under which name and how, and what it says. */
static uint64_t hash_use(uint64_t hash, const Compilation *compilation, const Use *use)
{
    hash = hash_word(hash, use->path->hash);
    hash = hash_word(hash, use->alias ? use->alias->hash : 0);
    hash = hash_options(hash, use->node ? use->node->first->next : NULL);
    return hash_word(hash, use->module ? canonical_hash(compilation, use->module) : 0);
}

/* The sizes that the file uses without saying so come first, as in the gathered file. */
uint64_t canonical_hash(const Compilation *compilation, Module *module)
{
    if (module->hash)
        return module->hash;
    uint64_t hash = module->holder ? module->holder->mark : module->tree->mark;
    const Use *uses = module->uses.items, *end = uses ? uses + module->uses.count : NULL;
    for (const Use *use = uses; use < end; use++)
        if (!use->node)
            hash = hash_use(hash, compilation, use);
    for (const Use *use = uses; use < end; use++)
        if (use->node)
            hash = hash_use(hash, compilation, use);
    return module->hash = hash ? hash : 1;
}

typedef struct GatheredFile {
    const Compilation *compilation;
    const KeptFades *kept; /* written in place of what asks for them; NULL for none */
    Buffer *out;
} GatheredFile;

/* What stands there in the file, with the turns that are kept. */
static void put_text(const GatheredFile *gathering, uint32_t file, uint32_t from, uint32_t to)
{
    const char *text = gathering->compilation->sources.list.items[file].bytes;
    for (uint32_t i = 0; gathering->kept && i < gathering->kept->count; i++) {
        const KeptFade *fade = &gathering->kept->items[i];
        if (fade->keeping != KEPT || fade->span.file != file || fade->span.start < from || fade->span.end > to)
            continue;
        buffer_put(gathering->out, text + from, fade->span.start - from);
        buffer_text(gathering->out, fade->text);
        from = fade->span.end;
    }
    buffer_put(gathering->out, text + from, to - from);
}

static void gather_module(const GatheredFile *gathering, Module *module);

static void gather_body(const GatheredFile *gathering, Module *used)
{
    Buffer *out = gathering->out;
    buffer_text(out, " {\n");
    gather_module(gathering, used);
    if (out->length && out->bytes[out->length - 1] != '\n')
        buffer_text(out, "\n");
    buffer_text(out, "}");
}

static void gather_module(const GatheredFile *gathering, Module *module)
{
    Buffer *out = gathering->out;
    /* Files that use one another crosswise could be gathered to any size. */
    if (out->length > LIMIT_FILE_BYTES)
        return;
    uint32_t at, end, file = module->tree->file;
    text_of_module(gathering->compilation, module, &at, &end);
    const Node *edition =
        module->declarations && module->declarations->kind == NODE_EDITION ? module->declarations : NULL;
    if (edition) {
        put_text(gathering, file, at, edition->span.end);
        at = edition->span.end;
    }
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (!module->uses.items[i].node && module->uses.items[i].module) {
            buffer_text(out, edition ? "\nuse \"std/sizes\"" : "use \"std/sizes\"");
            gather_body(gathering, module->uses.items[i].module);
            buffer_text(out, edition ? "" : "\n");
        }
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (!use->node || !use->module)
            continue;
        bool held = use->node->detail; /* the text in its braces may use files too */
        uint32_t head = held ? use->node->slot + 1 : use->node->span.end;
        put_text(gathering, file, at, head);
        if (held)
            gather_module(gathering, use->module);
        else
            gather_body(gathering, use->module);
        at = use->node->span.end - held;
    }
    put_text(gathering, file, at, end);
}

void canonical_gather(const Compilation *compilation, const KeptFades *kept, Buffer *out)
{
    GatheredFile gathering = {compilation, kept, out};
    gather_module(&gathering, compilation->reading->modules.list.items[0]);
}
