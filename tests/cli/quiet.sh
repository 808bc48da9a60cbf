# How much is said: notes in one line for each rod, all of them, or errors alone; and what counts as an error.
{
    cat norod.lay
    echo 'thread spare { diameter: 0.2 mm }'
    echo 'rod "Evening" on tube { at 10 cm { band 400 turns of navy }  at 20 cm { band 400 turns of navy } }'
    echo 'rod "Dusk" on tube { at 30 cm { band 400 turns of foam } }'
} >noted.lay
{ cat noted.lay; echo 'rod "Bare" on tube { at 40 cm { } }'; } >mixed.lay
sed 's/of navy/of nobody/' mixed.lay >faulty.lay

expect 0 'check of a file with notes' check noted.lay
[ "$(wc -l <"$out")" = 2 ]
verdict 'notes are one line a rod' $?
holds 'of several the count is told' "$out" 'noted.lay: 2 notes on the rod "Evening" (-v shows them): a wrap that may drift'
grep -qE '^noted.lay:7:[0-9]+: note: .* \(T504\)$' "$out"
verdict 'a single one is told itself' $?
expect 0 'check -v' check -v noted.lay
[ "$(grep -c '^    mend ' "$out")" = 3 ]
verdict '-v shows each note with its mend' $?
expect 0 'check --verbose' check --verbose noted.lay
holds '--verbose is the same' "$out" '3 notes'
expect 0 'check -q' check -q noted.lay
empty '-q says nothing of notes' "$out"
expect 0 'check --quiet' check --quiet mixed.lay
empty '--quiet says nothing of warnings either' "$out"
expect 1 'check -q of a file with an error, too' check -q faulty.lay
holds '-q shows the error' "$out" 'T101'
lacks 'and not the warning' "$out" 'warning'
holds 'and counts it' "$out" '1 error'
expect 0 'plan -q' plan -q mixed.lay
empty 'plan -q says nothing on standard error' "$err"
[ -s "$out" ]
verdict 'and prints the plan' $?
expect 0 'draw -q' draw -q mixed.lay
empty 'draw -q does not say which of several rods it took' "$err"
expect 0 'check -q --findings json' check -q --findings json mixed.lay
lacks '-q holds of JSON, too' "$out" '"code"'
holds 'which counts them all the same' "$out" '"warnings": 1'
expect 0 'check --findings json' check --findings json mixed.lay
[ "$(grep -c '"code": "T504"' "$out")" = 3 ]
verdict 'JSON has every note' $?
refuse '-q and -v at once' check -q -v noted.lay

expect 1 'check --strict of a file with a warning' check --strict mixed.lay
holds '--strict shows the warning as an error' "$out" ': error: no turn is wound'
lacks 'and no warning' "$out" 'warning'
expect 1 'check --strict -q' check --strict -q mixed.lay
holds 'such an error is shown by -q' "$out" 'T312'
expect 0 'check --strict of a file with notes alone' check --strict noted.lay
for verb in plan need sheet draw gather; do
    echo older >page
    expect 1 "$verb --strict of a file with a warning" "$verb" --strict -o page mixed.lay
    [ "$(cat page)" = older ]
    verdict "$verb --strict writes no page then" $?
    expect 0 "$verb of the same file" "$verb" -o page mixed.lay
    expect 0 "$verb --strict of a file without warnings" "$verb" --strict -o page good.lay
done
expect 1 'check --strict --findings json' check --strict --findings json mixed.lay
holds 'in JSON it is an error' "$out" '"severity": "error"'
refuse '--strict of explain' explain --strict T101

# Without a rod there is nothing to plan, to wind or to draw; a file of patterns is good all the same.
for verb in plan sheet draw; do
    rm -f page
    expect 1 "$verb of a file without a rod" "$verb" -o page norod.lay
    grep -qx 'norod.lay:1:1: error: there is no rod in this file (T024)' "$err"
    verdict "$verb says so as an error" $?
    no_file "$verb writes nothing" page
    expect 1 "$verb of it to standard output" "$verb" norod.lay
    empty "$verb prints nothing" "$out"
done
expect 1 'sheet --format html of a file without a rod' sheet --format html norod.lay
expect 0 'check of a file without a rod' check norod.lay
[ "$(cat "$out")" = 'norod.lay:1:1: note: there is no rod in this file (T024)' ]
verdict 'check notes it in one line' $?
expect 0 'need of a file without a rod' need norod.lay
holds 'need notes it, too' "$err" ': note: there is no rod in this file (T024)'
holds 'and says that there is nothing to get' "$out" 'Nothing is wound, so no thread is needed.'
lacks 'without a table of nothing' "$out" 'pieces'
expect 0 'gather of a file without a rod' gather norod.lay
empty 'gather does not mind' "$err"
expect 0 'check --strict of a file without a rod' check --strict norod.lay
expect 1 'a file with an error and without a rod' plan - < <(sed 's/67 per cm/0 per cm/' norod.lay)
lacks 'the error alone is told' "$err" 'T024'

# A word that all is well is for people at a terminal.
terminal check good.lay two.lay norod.lay
grep -qE '^good.lay is in order: 1 rod, [0-9]+ steps at the bench' "$out" && grep -q '^two.lay is in order: 2 rods, ' "$out" &&
    grep -q '^norod.lay is in order.$' "$out"
verdict 'check says on a terminal that a file is in order' $?
terminal check noted.lay
holds 'notes do not put it out of order' "$out" 'noted.lay is in order'
terminal check mixed.lay
lacks 'a warning does' "$out" 'in order'
terminal check faulty.lay
lacks 'and an error' "$out" 'in order'
terminal check -q good.lay
empty '-q does not say it' "$out"
terminal plan good.lay
lacks 'nor do other verbs' "$out" 'in order'
terminal check --findings json good.lay
lacks 'nor is it JSON' "$out" 'in order'
terminal check -o page good.lay
lacks 'nor does a file get it' page 'in order'
turnlay check good.lay
empty 'nor a pipe' "$out"

# What nobody needs has no row.
sed 's/^thread navy.*/thread navy { turns: 67 per cm, spool: 100 m, price: 3, stock: 50 m }/
    s/^thread foam.*/thread foam { turns: 67 per cm, spool: 100 m, price: 3 }/' good.lay >stocked.lay
echo 'thread spare { turns: 67 per cm, spool: 100 m, price: 3 }' >>stocked.lay
expect 0 'need of a thread that is in stock' need stocked.lay
[ "$(grep -c 'to buy' "$out")" = 1 ] && grep -q 'to buy: 1 spool of 100.00 m, cost 3.00' "$out"
verdict 'only what is short is to be bought' $?
lacks 'and not no spool at no cost' "$out" 'buy: 0'
grep -A1 '^navy' "$out" | grep -q '^  in stock: 50.00 m, .* left$'
verdict 'of what is in stock it is said what is left' $?
lacks 'a thread that is not wound has no row' "$out" 'spare'
