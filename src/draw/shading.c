#include "draw/shading.h"

/* A narrow gleam above the middle. */
static const ShadeStop gloss[] = {
    {0, 0x000000, .34},   {.06, 0x000000, .2},  {.17, 0x000000, 0},   {.17, 0xffffff, 0},   {.21, 0xffffff, .07},
    {.25, 0xffffff, .18}, {.28, 0xffffff, .2},  {.31, 0xffffff, .16}, {.36, 0xffffff, .05}, {.42, 0xffffff, 0},
    {.52, 0x000000, 0},   {.75, 0x000000, .17}, {.92, 0x000000, .4},  {1, 0x000000, .52},
};

/* No gleam, and softer edges. */
static const ShadeStop matt[] = {
    {0, 0x000000, .28},  {.1, 0x000000, .14},  {.32, 0x000000, 0}, {.5, 0x000000, 0},
    {.75, 0x000000, .1}, {.92, 0x000000, .28}, {1, 0x000000, .4},
};

/* A bright gleam beside a dark line, and what the bench below throws back. */
static const ShadeStop metallic[] = {
    {0, 0x000000, .5},    {.08, 0x000000, .26}, {.16, 0x000000, 0},   {.16, 0xffffff, 0}, {.23, 0xffffff, .3},
    {.28, 0xffffff, .55}, {.32, 0xffffff, .34}, {.38, 0xffffff, 0},   {.38, 0x000000, 0}, {.52, 0x000000, 0},
    {.62, 0x000000, .3},  {.7, 0x000000, .1},   {.74, 0x000000, 0},   {.74, 0xffffff, 0}, {.8, 0xffffff, .2},
    {.85, 0xffffff, 0},   {.85, 0x000000, 0},   {.93, 0x000000, .42}, {1, 0x000000, .6},
};

/* The gleams of metal alone, for threads among others: the light on all of them comes on top. */
static const ShadeStop glint[] = {
    {0, 0xffffff, 0},   {.16, 0xffffff, 0}, {.23, 0xffffff, .2}, {.28, 0xffffff, .42}, {.32, 0xffffff, .24},
    {.38, 0xffffff, 0}, {.38, 0x000000, 0}, {.52, 0x000000, 0},  {.62, 0x000000, .2},  {.7, 0x000000, 0},
    {.7, 0xffffff, 0},  {.8, 0xffffff, .2}, {.86, 0xffffff, 0},  {1, 0xffffff, 0},
};

#define STOPS(table) table, sizeof(table) / sizeof *(table)
const Shading shadings[SHADE_COUNT] = {
    [SHADE_FLAT] = {"", NULL, 0},
    [SHADE_CYLINDER] = {"", STOPS(gloss)},
    [SHADE_MATT] = {"-matt", STOPS(matt)},
    [SHADE_METALLIC] = {"-metallic", STOPS(metallic)},
    [SHADE_GLINT] = {"-glint", STOPS(glint)},
};

Shade shade_of(Sheen sheen)
{
    static const Shade shades[SHEEN_COUNT] = {
        [SHEEN_GLOSS] = SHADE_CYLINDER, [SHEEN_MATT] = SHADE_MATT, [SHEEN_METALLIC] = SHADE_METALLIC};
    return shades[sheen];
}
