/* The canonical form: what makes two pattern files the same pattern. And the file that holds all it uses. */
#include "reading.h"

#include "base/limits.h"
#include "parser.h"

#include <string.h>

typedef struct TokenWalk {
    const Source *source;
    const Tokens *tokens;
    const Module *module;
} TokenWalk;

static TokenWalk walk_of(const Compilation *compilation, const Module *module)
{
    return (TokenWalk){&compilation->sources.list.items[module->tree->file], &module->tree->tokens, module};
}

/* First token that does not begin before the offset. */
static uint32_t token_at(const Tokens *tokens, uint32_t offset)
{
    uint32_t low = 0, high = tokens->count - 1;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (tokens->starts[middle] < offset)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static uint32_t opening_brace(const TokenWalk *walk, const Node *use)
{
    uint32_t token = token_at(walk->tokens, use->span.start);
    while (walk->tokens->kinds[token] != LBRACE)
        token++;
    return token;
}

/* Where the module's own text lies: the whole file, or what stands between a `use`'s braces. */
static void text_of_module(const TokenWalk *walk, uint32_t *start, uint32_t *end)
{
    const Node *use = walk->module->holder;
    *start = use ? walk->tokens->ends[opening_brace(walk, use)] : 0;
    *end = use ? use->span.end - 1 : walk->source->length;
}

static uint64_t hash_number(uint64_t hash, uint64_t number)
{
    unsigned char bytes[8];
    for (int i = 0; i < 8; i++)
        bytes[i] = (unsigned char)(number >> (8 * i));
    return hash_bytes(hash, bytes, sizeof bytes);
}

/* The use that begins at this token, or NULL. */
static Use *use_at(const TokenWalk *walk, uint32_t token)
{
    for (uint32_t i = 0; i < walk->module->uses.count && walk->tokens->kinds[token] == USE; i++) {
        Use *use = &walk->module->uses.items[i];
        if (use->node && use->node->span.start == walk->tokens->starts[token])
            return use;
    }
    return NULL;
}

static uint64_t hash_token(uint64_t hash, const TokenWalk *walk, uint32_t token)
{
    uint32_t start = walk->tokens->starts[token], end = walk->tokens->ends[token];
    hash = hash_bytes(hash, walk->source->bytes + start, end - start);
    return hash_bytes(hash, " ", 1);
}

/* The sizes that the file uses without saying so count as a use behind its edition. */
static uint64_t hash_silent_use(uint64_t hash, const Compilation *compilation, const Module *module)
{
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (!use->node && use->module) {
            hash = hash_bytes(hash, "use \"std/sizes\" ", 16);
            hash = hash_number(hash, canonical_hash(compilation, use->module));
        }
    }
    return hash;
}

uint64_t canonical_hash(const Compilation *compilation, Module *module)
{
    if (module->hash)
        return module->hash;
    TokenWalk walk = walk_of(compilation, module);
    uint32_t start, end;
    text_of_module(&walk, &start, &end);
    uint32_t token = token_at(walk.tokens, start), silent_at = token;
    if (walk.tokens->kinds[token] == EDITION)
        silent_at = token + 2;
    uint64_t hash = HASH_START;
    for (;; token++) {
        if (token == silent_at)
            hash = hash_silent_use(hash, compilation, module);
        if (walk.tokens->kinds[token] == END || walk.tokens->starts[token] >= end)
            break;
        Use *use = use_at(&walk, token);
        if (!use) {
            hash = hash_token(hash, &walk, token);
            continue;
        }
        uint32_t body =
            use->node->detail ? walk.tokens->starts[opening_brace(&walk, use->node)] : use->node->span.end;
        for (; walk.tokens->starts[token] < body; token++)
            hash = hash_token(hash, &walk, token);
        if (use->module)
            hash = hash_number(hash, canonical_hash(compilation, use->module));
        while (walk.tokens->kinds[token] != END && walk.tokens->starts[token] < use->node->span.end)
            token++;
        token--;
    }
    return module->hash = hash ? hash : 1;
}

static void fold_module(const Compilation *compilation, Module *module, Buffer *out);

static void fold_body(const Compilation *compilation, Module *used, Buffer *out)
{
    buffer_text(out, " {\n");
    fold_module(compilation, used, out);
    if (out->length && out->bytes[out->length - 1] != '\n')
        buffer_text(out, "\n");
    buffer_text(out, "}");
}

static void fold_module(const Compilation *compilation, Module *module, Buffer *out)
{
    /* Files that use one another crosswise could fold to any size. */
    if (out->length > LIMIT_FILE_BYTES)
        return;
    TokenWalk walk = walk_of(compilation, module);
    uint32_t at, end;
    text_of_module(&walk, &at, &end);
    const Node *edition =
        module->declarations && module->declarations->kind == NODE_EDITION ? module->declarations : NULL;
    if (edition) {
        buffer_put(out, walk.source->bytes + at, edition->span.end - at);
        at = edition->span.end;
    }
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (!module->uses.items[i].node && module->uses.items[i].module) {
            buffer_text(out, edition ? "\nuse \"std/sizes\"" : "use \"std/sizes\"");
            fold_body(compilation, module->uses.items[i].module, out);
            buffer_text(out, edition ? "" : "\n");
        }
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (!use->node || !use->module)
            continue;
        bool held = use->node->detail; /* the text in its braces may use files too */
        uint32_t head = held ? walk.tokens->ends[opening_brace(&walk, use->node)] : use->node->span.end;
        buffer_put(out, walk.source->bytes + at, head - at);
        if (held)
            fold_module(compilation, use->module, out);
        else
            fold_body(compilation, use->module, out);
        at = use->node->span.end - held;
    }
    buffer_put(out, walk.source->bytes + at, end - at);
}

void canonical_fold(const Compilation *compilation, Buffer *out)
{
    fold_module(compilation, compilation->reading->modules.list.items[0], out);
}
