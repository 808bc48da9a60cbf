# A pattern to begin with.
pattern=$root/src/cli/first_pattern.lay
expect 0 'new' new harbour
same 'it writes the pattern, under a name with its ending' harbour.lay "$pattern"
empty 'and says nothing where nobody looks' "$err"
empty 'nor on standard output' "$out"
expect 0 'what it writes has no faults' check -v --strict harbour.lay
empty 'nor is anything noted' "$out"
for verb in plan need sheet draw gather; do
    expect 0 "$verb of it" "$verb" harbour.lay
    [ -s "$out" ] && ! [ -s "$err" ]
    verdict "$verb says nothing of it" $?
done
grep -q '^// ' harbour.lay
verdict 'it has comments' $?
expect 0 'new with the ending' new heron.lay
same 'it gets no second one' heron.lay "$pattern"
expect 0 'new in a folder' new ../new/kelp
same 'it lies there' kelp.lay "$pattern"
expect 0 'a name with a dot in it' new harbour.2
same 'gets the ending, too' harbour.2.lay "$pattern"

echo mine >tern.lay
for name in tern tern.lay ./tern; do
    expect 2 "new $name, which is there" new "$name"
    [ "$(cat tern.lay)" = mine ]
    verdict 'it stays as it is' $?
    [ "$(wc -l <"$err")" = 1 ] && grep -qF 'tern.lay is there already' "$err"
    verdict 'and that is said in one line' $?
done
ln -s tern.lay linked.lay
expect 2 'a link to a file that is there' new linked
ln -s reeds.lay leading.lay
expect 0 'a link to a file that is not there' new leading
same 'makes it' reeds.lay "$pattern"

expect 0 'new -' new -
same 'prints the pattern' "$out" "$pattern"
no_file 'and makes no file' ./-
no_file 'by no name' ./-.lay
refuse 'new without a name' new
refuse 'new with an empty name' new ''
refuse 'new with two names' new one two
no_file 'two names make no file' one.lay
refuse 'another ending' new brook.txt
no_file 'another ending makes no file' brook.txt.lay
refuse 'new with -o' new -o brook brook
expect 3 'new in a folder that is not there' new nowhere/brook
(ulimit -f 0; "$TURNLAY" new brook >/dev/null 2>&1)
[ $? = 3 ] && ! [ -e brook.lay ]
verdict 'a disk that takes no more' $?
no_leftovers 'no temporary file stays behind' .
"$TURNLAY" new - >/dev/full 2>"$err"
[ $? = 3 ]
verdict 'a full disk is exit code 3' $?
terminal new tides
[ "$code" = 0 ] && grep -qF 'tides.lay is written' "$out"
verdict 'at a terminal it is said what was done' $?
