/* The grammar of the language; grammar/reference.md says what it means. Statements begin with a word, an
 * extent comes before `of`, options carry a colon. A broken statement ends at SYNC, which the feeder puts where the next
 * one can begin, or at its opening brace, so that the faults inside are found too.
 *
 * Two parsers are made of it. The careful one (parser_parse) corrects its look-ahead (LAC): it tries each token before
 * it reduces, so that what it says of one that does not fit is right. That takes a tenth of the time and is of no use
 * to a text without faults; so the quick one (quick_parse; QUICK_PARSER is defined in it) reads first, and at the first
 * fault all begins again with the careful one. */
%code requires {
#include "syntax/reader.h"
}
%define api.pure full
%define api.token.raw
%define api.value.type union
%define api.location.type {Location}
%define parse.error custom
%locations
%expect 0
%param {Reader *reader}

%code {
/* The parser's stacks are as deep as they may ever be from the start: they take no memory of their own, so that a jump
 * out of the parser (memory run out) leaks nothing. A block or bracket takes at most about ten places. */
#define YYINITDEPTH 2000
#define YYMAXDEPTH 2000
#define YYLLOC_DEFAULT(current, rhs, n)                                                    \
    do {                                                                                   \
        (current).start = (n) ? YYRHSLOC(rhs, 1).start : YYRHSLOC(rhs, 0).end;             \
        (current).end = YYRHSLOC(rhs, n).end;                                              \
    } while (0)

#ifdef QUICK_PARSER
/* A word right behind a bare number on its line is meant as a unit, though the grammar may let it pass. */
static bool meant_as_unit(const Tokens *tokens, uint32_t at)
{
    return tokens->kinds[at] == WORD && tokens->kinds[at - 1] == NUMBER && !(tokens->details[at] & TOKEN_FIRST_ON_LINE)
           && (tokens->details[at - 1] & TOKEN_UNIT) == UNIT_NONE;
}

static int yylex(YYSTYPE *value, Location *location, Reader *reader)
{
    const Tokens *tokens = &reader->tokens;
    if (reader->position == tokens->count)
        scan_on(reader);
    uint32_t at = reader->position++;
    *location = (Location){tokens->starts[at], tokens->ends[at]};
    value->NUMBER = (Unit)(tokens->details[at] & TOKEN_UNIT);
    hash_given(reader, *location);
    return meant_as_unit(tokens, at) ? QUICK_UNDEF : tokens->kinds[at];
}

/* Nothing is said: the careful parser will. */
static void yyerror(Location *location, Reader *reader, const char *message)
{
    (void)location;
    (void)reader;
    (void)message;
}
#else
static int yylex(YYSTYPE *value, Location *location, Reader *reader)
{
    int kind = next_token(reader, location);
    value->NUMBER = (Unit)(reader->tokens.details[reader->given] & TOKEN_UNIT);
    return kind;
}

static void yyerror(Location *location, Reader *reader, const char *message)
{
    (void)location;
    (void)message;
    report_too_deep(reader);
}
#endif

static NodeList one(Node *node) { return (NodeList){node, node}; }

static NodeList more(NodeList list, Node *node)
{
    if (!list.first)
        return one(node);
    if (node) {
        list.last->next = node;
        list.last = node;
    }
    return list;
}

/* One that has a name, and so no body. */
static Node *named(Node *node, Node *first, Node *second)
{
    node->first = first;
    node->second = second;
    return node;
}

static Node *with(Node *node, Node *first, Node *second, Node *options, Node *body)
{
    node->first = first;
    node->second = second;
    node->options = options;
    node->body = body;
    return node;
}

/* What may stand without braces has them. */
static Node *in_braces(Node *node)
{
    node->detail = 1;
    return node;
}

#define NEW(kind) node_make(reader, NODE_##kind, yyloc)
/* The token behind, if bison has looked at it; else yychar is negative. */
#define AHEAD (yychar < 0 ? NULL : &yylloc)
}

%token END 0 "the end of the file"
/* The value of a token is its Unit: that of a number or rate; UNIT_UNKNOWN where the scanner found a fault. */
%token WORD "a name"
%token LABEL "an option"
/* An option of a `use` or blank, where what else is written with a colon is no option (known_options in the scanner). */
%token KNOWN_LABEL "a known option"
%token <Unit> NUMBER "a number" STRING "a text in quotes" COLOUR "a colour" PER_UNIT "a rate"
%token SYNC "the next statement"
%token EDITION "edition" ABOUT "about" USE "use" SIZE "size" THREAD "thread" BENCH "bench" BLANK "blank"
    GUIDE "guide" PATTERN "pattern" ROD "rod"
%token LET "let" BAND "band" FADE "fade" INLAY "inlay" GAP "gap" REPEAT "repeat" MIRROR "mirror"
    SYMMETRIC "symmetric" CHEVRON "chevron" DIAMOND "diamond" SPIRAL "spiral" STRAND "strand" FOR "for" IF "if" ELSE "else" REQUIRE "require" UNDER "under" OVER "over" AT "at"
/* Known by where they stand; elsewhere the scanner takes them for names. ROW is the `at` of a series, which may end
 * without braces. */
%token SERIES "series" PART "part" ROW "a row"
%token LIKE "like" AS "as" ON "on" OF "of" TO "to" IN "in" OUT "out" PER "per" FILL "fill" TURNS "turns"
    AND "and" OR "or" NOT "not" YES "yes" NO "no"
%token LBRACE "{" RBRACE "}" LPAREN "(" RPAREN ")" LBRACKET "[" RBRACKET "]" COMMA "," COLON ":" DOT "."
    ASSIGN "=" EQUAL "==" UNEQUAL "!=" LESS "<" LESS_EQUAL "<=" GREATER ">" GREATER_EQUAL ">=" PLUS "+" MINUS "-"
    TIMES "*" DIVIDE "/"

%type <Node *> declaration declared station statement if_statement fill expression name
    word option known_option parameter parameter_kind argument pair use_name rod_blank swap
%type <NodeList> declarations use_options fields stations swaps statements options crosswrap_options parameters parameter_list
    arguments items

%left OR
%left AND
%precedence NOT
%nonassoc EQUAL UNEQUAL LESS LESS_EQUAL GREATER GREATER_EQUAL
%left PLUS MINUS
%left TIMES DIVIDE
%precedence SIGN
%left PER PER_UNIT TURNS

%%

file: declarations {
        reader->tree->declarations = $declarations.first;
        reader->tree->mark = reader->mark;
      }

declarations: %empty { $$ = (NodeList){0}; }
    | declarations declaration { $$ = more($1, $2); }

declaration: declared { $$ = $1; declaration_read(reader, $$, AHEAD); }
    | error SYNC { $$ = node_lost(reader, @1); declaration_read(reader, $$, AHEAD); yyerrok; }
    | error broken_block { $$ = node_lost(reader, @1); declaration_read(reader, $$, AHEAD); yyerrok; }

declared: EDITION NUMBER { $$ = with(NEW(EDITION), node_number(reader, $2, @2), NULL, NULL, NULL); }
    | ABOUT "{" fields "}" { $$ = with(NEW(ABOUT), NULL, NULL, $3.first, NULL); }
    | USE STRING use_name use_options {
        $$ = with(NEW(USE), node_text(reader, $2, @2), $3, NULL, NULL);
        $$->first->next = $4.first;
      }
    | USE STRING use_name use_options "{" <uint64_t>{ $$ = mark_begin(reader, AHEAD); } declarations "}" {
        $$ = with(NEW(USE), node_text(reader, $2, @2), $3, NULL, $7.first);
        $$->first->next = $4.first;
        $$->detail = 1;
        $$->slot = @5.start;
        $$->mark = reader->mark;
        reader->mark = $6;
        if (reader->first_length_at > @5.start)
            reader->tree->first_length = UNIT_NONE; /* it is the used file's */
      }
    | SIZE word "{" fields "}" { $$ = with(NEW(SIZE), $2, NULL, $4.first, NULL); }
    | THREAD word "{" fields "}" { $$ = with(NEW(THREAD), $2, NULL, $4.first, NULL); }
    | GUIDE word "{" fields "}" { $$ = with(NEW(GUIDE), $2, NULL, $4.first, NULL); }
    | BENCH "{" fields "}" {
        $$ = with(NEW(BENCH), NULL, NULL, $3.first, NULL);
        $$->span.start = @2.start;
      }
    | BLANK word "{" stations "}" {
        NodeList set = node_list_split(&$4, NODE_OPTION);
        $$ = with(NEW(BLANK), $2, NULL, set.first, $4.first);
      }
    | LET word "=" expression { $$ = with(NEW(LET), $4, $2, NULL, NULL); }
    | PATTERN word "(" parameters ")" "{" statements "}" { $$ = with(NEW(PATTERN), $2, NULL, $4.first, $7.first); }
    | ROD STRING ON rod_blank options "{" statements "}" {
        $$ = with(NEW(ROD), node_text(reader, $2, @2), $4, $5.first, $7.first);
      }
    | ROD STRING ON rod_blank options LIKE STRING options "{" swaps "}" {
        $$ = with(NEW(ROD), node_text(reader, $2, @2), $4, node_list_join($5, $8).first, $10.first);
        $$->first->next = node_text(reader, $7, @7);
      }
    | ROD STRING LIKE STRING options "{" swaps "}" {
        $$ = with(NEW(ROD), node_text(reader, $2, @2), NULL, $5.first, $7.first);
        $$->first->next = node_text(reader, $4, @4);
      }

rod_blank: name
    | "[" items "]" { $$ = with(NEW(LIST), $2.first, NULL, NULL, NULL); }
    | "[" items COMMA "]" { $$ = with(NEW(LIST), $2.first, NULL, NULL, NULL); }

swaps: %empty { $$ = (NodeList){0}; }
    | swaps swap { $$ = more($1, $2); }
    | swaps COMMA
    | swaps error SYNC { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }
    | swaps error broken_block { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }

swap: LABEL expression { $$ = with(NEW(SWAP), node_label(reader, NODE_NAME, @1, @1), $2, NULL, NULL); }
    | WORD "." WORD ":" expression { $$ = with(NEW(SWAP), node_in_module(reader, @1, @3), $5, NULL, NULL); }

use_name: %empty { $$ = NULL; }
    | AS word { $$ = $2; }

use_options: %empty { $$ = (NodeList){0}; }
    | use_options known_option { $$ = more($1, $2); }

known_option: KNOWN_LABEL expression { $$ = named(node_label(reader, NODE_OPTION, @1, @$), $2, NULL); }

fields: %empty { $$ = (NodeList){0}; }
    | fields option { $$ = more($1, $2); }
    | fields COMMA
    | fields error SYNC { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }
    | fields error broken_block { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }

option: LABEL IN {   /* units: in */
        $$ = named(node_label(reader, NODE_OPTION, @1, @$), node_name(reader, @2), NULL);
      }
    | LABEL expression { $$ = named(node_label(reader, NODE_OPTION, @1, @$), $2, NULL); }

options: %empty { $$ = (NodeList){0}; }
    | options option { $$ = more($1, $2); }

/* End bands are an extent of a thread: `ends: 10 mm of slate`. */
crosswrap_options: %empty { $$ = (NodeList){0}; }
    | crosswrap_options option { $$ = more($1, $2); }
    | crosswrap_options LABEL expression OF expression {
        Location option = {@2.start, @5.end};
        $$ = more($1, named(node_label(reader, NODE_OPTION, @2, option), $3, $5));
      }

stations: %empty { $$ = (NodeList){0}; }
    | stations station { $$ = more($1, $2); }
    | stations known_option { $$ = more($1, $2); }
    | stations COMMA
    | stations error SYNC { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }
    | stations error broken_block { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }

station: AT expression ":" expression { $$ = with(NEW(STATION), $2, $4, NULL, NULL); }

parameters: %empty { $$ = (NodeList){0}; }
    | parameter_list
    | parameter_list COMMA

parameter_list: parameter { $$ = one($1); }
    | parameter_list COMMA parameter { $$ = more($1, $3); }

parameter: LABEL parameter_kind { $$ = named(node_label(reader, NODE_PARAMETER, @1, @$), NULL, $2); }
    | LABEL parameter_kind "=" expression {
        $$ = named(node_label(reader, NODE_PARAMETER, @1, @$), $4, $2);
      }

parameter_kind: WORD { $$ = node_name(reader, @1); }
    | THREAD { $$ = node_name(reader, @1); }
    | TURNS { $$ = node_name(reader, @1); }
    | GUIDE { $$ = node_name(reader, @1); }

statements: %empty { $$ = (NodeList){0}; }
    | statements statement { $$ = more($1, $2); }
    | statements error SYNC { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }
    | statements error broken_block { $$ = more($1, node_broken(reader, yyloc)); yyerrok; }

/* What may stand behind a header that could not be read: it is read for its own faults and dropped. */
broken_block: "{" mixed "}"
    | "{" some_fields "}"

some_fields: option
    | some_fields option
    | some_fields COMMA
    | some_fields error SYNC { yyerrok; }
    | some_fields error broken_block { yyerrok; }

mixed: %empty
    | mixed statement
    | mixed station
    | mixed error SYNC { yyerrok; }
    | mixed error broken_block { yyerrok; }

/* All kinds of statements and values stand here themselves, not behind rules of their own: a chain of single steps
 * costs a fifth of the time. For the same reason names stand beside `name`, which only calls and a rod's blank need. What may stand where is settled
 * by meaning (resolve_statements.c). */
statement: if_statement
    | AT expression options "{" statements "}" { $$ = in_braces(with(NEW(PLACE), $2, NULL, $3.first, $5.first)); }
    | AT expression ":" expression options "{" statements "}" {
        $$ = in_braces(with(NEW(PLACE), $2, $4, $5.first, $7.first));
      }
    | ROW expression options { $$ = with(NEW(PLACE), $2, NULL, $3.first, NULL); }
    | ROW expression ":" expression options { $$ = with(NEW(PLACE), $2, $4, $5.first, NULL); }
    | ROW expression options "{" statements "}" { $$ = in_braces(with(NEW(PLACE), $2, NULL, $3.first, $5.first)); }
    | ROW expression ":" expression options "{" statements "}" {
        $$ = in_braces(with(NEW(PLACE), $2, $4, $5.first, $7.first));
      }
    | SERIES options "{" statements "}" { $$ = with(NEW(SERIES), NULL, NULL, $2.first, $4.first); }
    | PART word at expression options { $$ = with(NEW(PART), $2, $4, $5.first, NULL); }
    | PART word at expression options "{" fields "}" {
        $$ = with(NEW(PART), $2, $4, node_list_join($5, $7).first, NULL);
      }
    | UNDER options "{" statements "}" { $$ = with(NEW(UNDER), NULL, NULL, $2.first, $4.first); }
    | OVER options "{" statements "}" { $$ = with(NEW(OVER), NULL, NULL, $2.first, $4.first); }
    | BAND expression OF expression options { $$ = with(NEW(BAND), $2, $4, $5.first, NULL); }
    | BAND fill OF expression options { $$ = with(NEW(BAND), $2, $4, $5.first, NULL); }
    | BAND expression OF expression options "{" statements "}" { $$ = with(NEW(BAND), $2, $4, $5.first, $7.first); }
    | BAND fill OF expression options "{" statements "}" { $$ = with(NEW(BAND), $2, $4, $5.first, $7.first); }
    | INLAY expression OF expression options { $$ = with(NEW(INLAY), $2, $4, $5.first, NULL); }
    | INLAY fill OF expression options { $$ = with(NEW(INLAY), $2, $4, $5.first, NULL); }
    | FADE TO expression options { $$ = with(NEW(FADE_TO), NULL, $3, $4.first, NULL); }
    | FADE expression OF expression options { $$ = with(NEW(FADE_OF), $2, $4, $5.first, NULL); }
    | FADE fill OF expression options { $$ = with(NEW(FADE_OF), $2, $4, $5.first, NULL); }
    | CHEVRON crosswrap_options "{" statements "}" { $$ = with(NEW(CHEVRON), NULL, NULL, $2.first, $4.first); }
    | DIAMOND crosswrap_options "{" statements "}" { $$ = with(NEW(DIAMOND), NULL, NULL, $2.first, $4.first); }
    | SPIRAL crosswrap_options "{" statements "}" { $$ = with(NEW(SPIRAL), NULL, NULL, $2.first, $4.first); }
    | STRAND expression OF expression { $$ = with(NEW(STRAND), $2, $4, NULL, NULL); }
    | STRAND fill OF expression { $$ = with(NEW(STRAND), $2, $4, NULL, NULL); }
    | GAP expression { $$ = with(NEW(GAP), $2, NULL, NULL, NULL); }
    | GAP expression OF expression { $$ = with(NEW(GAP), $2, $4, NULL, NULL); }
    | REPEAT expression "{" statements "}" { $$ = with(NEW(REPEAT), $2, NULL, NULL, $4.first); }
    | MIRROR "{" statements "}" { $$ = with(NEW(MIRROR), NULL, NULL, NULL, $3.first); }
    | SYMMETRIC "{" statements "}" { $$ = with(NEW(SYMMETRIC), NULL, NULL, NULL, $3.first); }
    | FOR word IN expression "{" statements "}" { $$ = with(NEW(FOR), $4, NULL, $2, $6.first); }
    | FOR word IN expression TO expression "{" statements "}" { $$ = with(NEW(FOR), $4, $6, $2, $8.first); }
    | REQUIRE expression { $$ = with(NEW(REQUIRE), $2, NULL, NULL, NULL); }
    | REQUIRE expression COMMA STRING { $$ = with(NEW(REQUIRE), $2, node_text(reader, $4, @4), NULL, NULL); }
    | LET word "=" expression { $$ = with(NEW(LET), $4, $2, NULL, NULL); }
    | name "(" ")" { $$ = with(NEW(CALL), $1, NULL, NULL, NULL); }
    | name "(" arguments ")" { $$ = with(NEW(CALL), $1, NULL, $3.first, NULL); }
    | name "(" arguments COMMA ")" { $$ = with(NEW(CALL), $1, NULL, $3.first, NULL); }

if_statement: IF expression "{" statements "}" { $$ = with(NEW(IF), $2, NULL, NULL, $4.first); }
    | IF expression "{" statements "}" ELSE "{" statements "}" {
        Node *otherwise = with(node_make(reader, NODE_BLOCK, @8), NULL, NULL, NULL, $8.first);
        $$ = with(NEW(IF), $2, otherwise, NULL, $4.first);
      }
    | IF expression "{" statements "}" ELSE if_statement { $$ = with(NEW(IF), $2, $7, NULL, $4.first); }

at: AT | ROW

fill: FILL { $$ = node_leaf(reader, NODE_FILL, @1); }

arguments: argument { $$ = one($1); }
    | arguments COMMA argument { $$ = more($1, $3); }

argument: expression { $$ = with(NEW(ARGUMENT), $1, NULL, NULL, NULL); }
    | LABEL expression { $$ = named(node_label(reader, NODE_ARGUMENT, @1, @$), $2, NULL); }

expression: WORD { $$ = node_name(reader, @1); }
    | WORD "." WORD { $$ = node_in_module(reader, @1, @3); }
    | NUMBER { $$ = node_number(reader, $1, @1); }
    | STRING { $$ = node_text(reader, $1, @1); }
    | COLOUR { $$ = node_colour(reader, $1, @1); }
    | YES { $$ = node_leaf(reader, NODE_TRUTH, @1); $$->detail = 1; }
    | NO { $$ = node_leaf(reader, NODE_TRUTH, @1); }
    | name "(" ")" { $$ = with(NEW(CALL), $1, NULL, NULL, NULL); }
    | name "(" arguments ")" { $$ = with(NEW(CALL), $1, NULL, $3.first, NULL); }
    | name "(" arguments COMMA ")" { $$ = with(NEW(CALL), $1, NULL, $3.first, NULL); }
    | "(" expression ")" { $$ = $2; }
    | "[" "]" { $$ = NEW(LIST); }
    | "[" items "]" { $$ = with(NEW(LIST), $2.first, NULL, NULL, NULL); }
    | "[" items COMMA "]" { $$ = with(NEW(LIST), $2.first, NULL, NULL, NULL); }
    | NOT expression { $$ = with(NEW(SIGN), $2, NULL, NULL, NULL); $$->detail = OPERATOR_NOT; }
    | MINUS expression %prec SIGN { $$ = with(NEW(SIGN), $2, NULL, NULL, NULL); $$->detail = OPERATOR_MINUS; }
    | expression OR expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_OR; }
    | expression AND expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_AND; }
    | expression EQUAL expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_EQUAL; }
    | expression UNEQUAL expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_UNEQUAL; }
    | expression LESS expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_LESS; }
    | expression LESS_EQUAL expression {
        $$ = with(NEW(OPERATION), $1, $3, NULL, NULL);
        $$->detail = OPERATOR_LESS_EQUAL;
      }
    | expression GREATER expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_GREATER; }
    | expression GREATER_EQUAL expression {
        $$ = with(NEW(OPERATION), $1, $3, NULL, NULL);
        $$->detail = OPERATOR_GREATER_EQUAL;
      }
    | expression PLUS expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_ADD; }
    | expression MINUS expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_SUBTRACT; }
    | expression TIMES expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_MULTIPLY; }
    | expression DIVIDE expression { $$ = with(NEW(OPERATION), $1, $3, NULL, NULL); $$->detail = OPERATOR_DIVIDE; }
    | expression TURNS { $$ = with(NEW(TURNS_OF), $1, NULL, NULL, NULL); }
    | expression PER_UNIT { $$ = with(NEW(RATE), $1, node_per_unit(reader, $2, @2), NULL, NULL); }
    | expression PER expression { $$ = with(NEW(RATE), $1, $3, NULL, NULL); }

items: expression { $$ = one($1); }
    | pair { $$ = one($1); }
    | items COMMA expression { $$ = more($1, $3); }
    | items COMMA pair { $$ = more($1, $3); }

pair: IN expression OUT expression { $$ = with(NEW(PAIR), $2, $4, NULL, NULL); }

name: WORD { $$ = node_name(reader, @1); }
    | WORD "." WORD { $$ = node_in_module(reader, @1, @3); }

word: WORD { $$ = node_name(reader, @1); }

%%

#ifdef QUICK_PARSER
static int yyreport_syntax_error(const yypcontext_t *context, Reader *reader)
{
    (void)context;
    (void)reader;
    (void)yypcontext_expected_tokens; /* of no use here */
    return 2; /* bison's word for giving up */
}
#else
/* Says which tokens would have fitted; the feeder finds the words. */
static int yyreport_syntax_error(const yypcontext_t *context, Reader *reader)
{
    yysymbol_kind_t expected[YYNTOKENS];
    int kinds[YYNTOKENS];
    int count = yypcontext_expected_tokens(context, expected, YYNTOKENS);
    if (count < 0)
        return count;
    for (int i = 0; i < count; i++)
        kinds[i] = (int)expected[i];
    recover_from_token(reader, (int)yypcontext_token(context), kinds, count);
    return 0;
}

/* With api.token.raw a token's code is its symbol's number. */
const char *token_spelling(int kind)
{
    return yysymbol_name((yysymbol_kind_t)kind);
}
#endif
