#include "meaning/content.h"

#include "meaning/module.h"

unsigned content_of_statement(const Node *node)
{
    static const uint8_t holds[NODE_KIND_COUNT] = {
        [NODE_BAND] = HOLDS_TURNS,        [NODE_INLAY] = HOLDS_TURNS,       [NODE_FADE_TO] = HOLDS_TURNS,
        [NODE_FADE_OF] = HOLDS_TURNS,     [NODE_GAP] = HOLDS_TURNS,         [NODE_STRAND] = HOLDS_TURNS,
        [NODE_REPEAT] = HOLDS_TURNS,      [NODE_MIRROR] = HOLDS_TURNS,      [NODE_SYMMETRIC] = HOLDS_TURNS,
        [NODE_CHEVRON] = HOLDS_CROSSWRAP, [NODE_DIAMOND] = HOLDS_CROSSWRAP, [NODE_SPIRAL] = HOLDS_CROSSWRAP,
        [NODE_UNDER] = HOLDS_LAYERS,      [NODE_OVER] = HOLDS_LAYERS,       [NODE_PLACE] = HOLDS_PLACES,
        [NODE_SERIES] = HOLDS_PLACES,     [NODE_PART] = HOLDS_PLACES,
    };
    switch (node->kind) {
    case NODE_FOR:
    case NODE_BLOCK: return content_of(node->body);
    case NODE_IF: return content_of(node->body) | (node->second ? content_of_statement(node->second) : 0);
    case NODE_CALL: return node->target ? ((const Declaration *)node->target)->holds : 0;
    default: return holds[node->kind];
    }
}

/* A file holds no deeper blocks than LIMIT_NESTING. */
unsigned content_of(const Node *statements)
{
    unsigned content = 0;
    for (const Node *node = statements; node; node = node->next)
        content |= content_of_statement(node);
    return content;
}

static const Node *first_in(const Node *node, unsigned content)
{
    const Node *found = NULL;
    if (node->kind == NODE_IF || node->kind == NODE_FOR || node->kind == NODE_BLOCK)
        found = content_first(node->body, content);
    else if (content_of_statement(node) & content)
        found = node;
    return !found && node->kind == NODE_IF && node->second ? first_in(node->second, content) : found;
}

const Node *content_first(const Node *statements, unsigned content)
{
    const Node *found = NULL;
    for (const Node *node = statements; node && !found; node = node->next)
        found = first_in(node, content);
    return found;
}
