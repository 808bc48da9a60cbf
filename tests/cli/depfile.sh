# Files for make.
mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ sed 's/of navy/of mist/' good.lay; echo 'use "shop/threads"'; } >user.lay
sed 's/of foam/of nobody/' user.lay >broken.lay

expect 0 'plan -MD -o' plan -MD -o user.text user.lay
holds '-MD names the output as what is made' user.text.d 'user.text: user.lay'
holds '-MD names the used file' user.text.d 'shop/threads.lay'
grep -qx 'shop/threads.lay:' user.text.d
verdict 'a used file that vanishes does not stop make' $?
! grep -qx 'user.lay:' user.text.d
verdict 'the file itself must be there' $?
expect 0 'plan -MF' plan -MF named.d -o user.text user.lay
same '-MF NAME is the same under its name' named.d user.text.d
expect 0 'plan -MFNAME' plan -MFglued.d -o user.text user.lay
same '-MFNAME is the same' glued.d user.text.d
expect 0 'plan -MD without -o' plan -MD user.lay
holds 'without -o the file for make is beside the file' user.lay.d 'user.lay.d: user.lay'
[ -s "$out" ]
verdict '-MD does not take the result from standard output' $?
expect 0 'check -MD' check -MD two.lay
holds 'check -MD names the file read' two.lay.d ' two.lay'
expect 0 'standard input and -MF' plan -MF input.d -o input.text - <user.lay
holds 'standard input is no file for make' input.d 'input.text: shop/threads.lay'
grep -qx 'shop/threads.lay:' input.d
verdict 'what standard input uses may vanish' $?
lacks 'its shown name is not used' input.d 'input>'

{ echo 'edition 1'; echo 'use "shop/threads"'; } >between.lay
{ cat user.lay; echo 'use "between"'; } >twice.lay
expect 0 'a file used by two files' plan -MF twice.d -o twice.text twice.lay
[ "$(grep -c '^  shop/threads.lay' twice.d)" = 1 ]
verdict 'a file used by two files is named once' $?

expect 1 '-MD of a file with errors' plan -MD -o broken.text broken.lay
holds 'the file for make is written all the same' broken.text.d 'shop/threads.lay'
no_file 'the result is not' broken.text
expect 2 '-MD of a missing file' plan -MD -o missing.text missing.lay
no_file 'writes nothing' missing.text.d
echo changed >user.text
expect 3 '-MF into a folder that is not there' plan -MF nowhere/deps -o user.text user.lay
[ "$(cat user.text)" = changed ]
verdict 'without a file for make no page is written that make takes for fresh' $?
mkdir -p blocked.text.d
expect 3 '-MD onto a folder' plan -MD -o blocked.text user.lay
no_file 'no page is written here either' blocked.text
expect 3 'a page that cannot be written' plan -MF kept.d -o nowhere/page user.lay
no_file 'no file for make that is made itself' kept.d
rm -f two.lay.d
"$TURNLAY" plan -MD two.lay >/dev/full 2>"$err"
code=$?
[ "$code" = 3 ] && ! [ -e two.lay.d ]
verdict 'a full disk leaves no file that make takes for fresh' $?
cp bad.lay worse.lay
expect 1 'check -MD of a file with errors' check -MD worse.lay
no_file 'it is still to be checked' worse.lay.d
expect 2 'plan -MD with --rod' draw --rod 9 -MD two.lay
no_file 'wrong use writes nothing for make' two.lay.d

# The two outputs never fall on each other.
apart() { # NAME ARGUMENT...
    local name=$1
    shift
    rm -f one
    expect 2 "$name" "$@"
    no_file "$name: nothing is written" one
    holds "$name: it is said" "$err" 'would both go to'
}
ln -sf one link_to_one
apart '-o and -MF of one name' plan -o one -MF one user.lay
apart '-o and -MF of one name, spelled otherwise' plan -o one -MF ./shop/../one user.lay
ln -s shop shelf
apart '-o and -MF of one name in a folder and a link to it' plan -o shop/unmade -MF shelf/unmade user.lay
apart '-o and -MF of one name, with a folder and without' plan -o unmade -MF ./unmade user.lay
apart '-o and -MF through a link' plan -o one -MF link_to_one user.lay
apart '-MF and -o through a link' plan -o link_to_one -MF one user.lay
apart '-MF - without -o' plan -MF - user.lay
apart '-MF /dev/stdout without -o' check -MF /dev/stdout user.lay
ln -sf "$PWD/one" one.d
apart '-MD whose name is a link to the output' plan -MD -o one user.lay
rm one.d
echo older >one
ln one twin
expect 2 '-o and -MF of one file under two names' plan -o one -MF twin user.lay
[ "$(cat one twin)" = $'older\nolder' ]
verdict 'it stays under both names' $?
expect 0 '-MF -' plan -MF - -o user.text user.lay
holds '-MF - is standard output' "$out" 'user.text: user.lay'
expect 0 'one name in two folders' plan -MF shop/fresh -o fresh user.lay
[ -s fresh ] && [ -s shop/fresh ]
verdict 'both are written' $?
"$TURNLAY" plan -MF - user.lay >/dev/null 2>"$err"
code=$?
[ "$code" = 2 ]
verdict '-MF - without -o, wherever standard output goes' $?
expect 0 'two devices are never in the way' plan -MF /dev/null -o /dev/null user.lay
ln -s /dev/null nothing
expect 0 '-MD with a device as output' plan -MD -o nothing user.lay
no_file 'no file for make is named after a device' nothing.d
holds 'it stands beside the file' user.lay.d 'user.lay.d: user.lay'
rm user.lay.d
expect 0 '-MD with -o /dev/stdout' plan -MD -o /dev/stdout user.lay
holds 'here, too' user.lay.d 'user.lay.d: user.lay'
refuse '-MD of standard input with -o -' plan -MD -o - -
refuse '-MD of standard input with -o /dev/stdout' plan -MD -o /dev/stdout -
expect 0 '-MD of several files' check -MD user.lay two.lay
[ -s user.lay.d ] && [ -s two.lay.d ]
verdict 'each has its own' $?
