# Where used files are sought, in which order, and what is refused.
library() { # FOLDER
    mkdir -p "$1/shop"
    { echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >"$1/shop/threads.lay"
}
mkdir -p main
{ sed 's/of navy/of mist/' good.lay; echo 'use "shop/threads"'; } >main/user.lay
for folder in main first second third fourth; do
    library "$folder"
done

took() { # NAME PATH ARGUMENT...
    local name=$1 path=$2
    shift 2
    TURNLAY_PATH=nowhere:third::fourth turnlay check -v "$@" main/user.lay
    [ "$code" = 0 ] && grep -qF "using $path for " "$err"
    verdict "$name" $?
}
took 'beside the using file first' main/shop/threads.lay -I first -I second
rm -r main/shop
took 'then in the first -I' first/shop/threads.lay -I first -I second
took 'in the order of the -I' second/shop/threads.lay -I second -I first
took 'a stroke at the end makes no difference' first/shop/threads.lay -I ./first/ -I second
rm -r first/shop
took 'then in the next -I' second/shop/threads.lay -I first -I second
took 'then in TURNLAY_PATH, of which a folder may be missing' third/shop/threads.lay -I first
rm -r third/shop
took 'then in the next of TURNLAY_PATH' fourth/shop/threads.lay -I first
expect 1 'found nowhere' check -I first main/user.lay
holds 'found nowhere is T020' "$out" 'T020'
holds 'it says where it was sought' "$out" 'first'
turnlay check -I second main/user.lay
lacks 'without -v nothing is said of used files' "$err" 'using'
cp -r second/shop shop
turnlay check main/user.lay
[ "$code" = 1 ]
verdict 'the working folder is not searched for a file elsewhere' $?

{ cat good.lay; echo 'use "std/trims"'; } >standard.lay
expect 0 'the standard library is found' check -v standard.lay
holds 'it is the one that belongs to the program' "$err" '/stdlib/trims.lay'
{ sed 's/navy { turns: 67 per cm }/navy { size: A }/' good.lay; } >sized.lay
expect 0 'a size is found without saying so' plan -v sized.lay
holds 'it comes from the standard library' "$err" '/stdlib/sizes.lay'
lacks 'pages do not depend on where the standard library lies' "$out" '/stdlib'
mkdir -p first/std
echo 'edition 1' >first/std/trims.lay
expect 0 'a file of one'\''s own may stand for a standard one' check -v -I first standard.lay
holds 'earlier folders come first' "$err" 'using first/std/trims.lay'
{ cat good.lay; echo 'use "trims"'; } >bare.lay
expect 1 'the standard library has only names that begin with std/' check bare.lay

refused() { # NAME CODE PATH
    { cat good.lay; echo "use \"$3\""; } >refused.lay
    turnlay check -v refused.lay
    [ "$code" = 1 ] && grep -q "$2" "$out" && ! grep -q "using .*secret" "$err"
    verdict "$1" $?
}
mkdir -p outside
echo 'edition 1' >outside/secret.lay
cp outside/secret.lay secret.lay
ln -s ../outside/secret.lay shop/leak.lay
ln -s ../outside main/away
refused 'a path with ..' T022 'shop/../secret'
refused 'a path that ends with ..' T022 'shop/..'
refused 'a path that begins with ..' T022 '../secret'
refused 'a path with a backslash' T022 'shop\\secret'
mkdir shop/..thin
for name in ..x .y z.. ..thin/x; do
    cp secret.lay "shop/$name.lay"
    { cat good.lay; echo "use \"shop/$name\""; } >dotted.lay
    expect 0 "dots in a name are no way out: $name" check dotted.lay
done
refused 'a path that begins with a stroke' T022 "$PWD/secret"
{ cat good.lay; echo 'use "leak"'; } >shop/leaking.lay
expect 1 'a link that leads out of its folder' check shop/leaking.lay
holds 'such a link is T022' "$out" 'T022'
{ cat good.lay; echo 'use "away/secret"'; } >main/leaking.lay
expect 1 'a linked folder that leads out' check main/leaking.lay
holds 'such a folder is T022' "$out" 'T022'
ln -s threads.lay shop/alias.lay
{ cat good.lay; echo 'use "alias"'; } >shop/aliased.lay
expect 0 'a link within the folder is allowed' check shop/aliased.lay
mkdir shop/heap.lay
refused 'a used folder' T023 'shop/heap'
mkfifo shop/pipe.lay
refused 'a used pipe is not waited for' T023 'shop/pipe'
ln -s loop.lay shop/loop.lay
refused 'a link to itself' T023 'shop/loop'
{ echo 'edition 1'; echo 'use "circle"'; } >circle.lay
{ cat good.lay; echo 'use "circle"'; } >circling.lay
expect 1 'files that use each other in a circle end' check circling.lay

# Each file of a row uses the next one under two names, so that the last would lie 2^25 times in the gathered file.
mkdir row
for row in $(seq 0 25); do
    next=$((row + 1))
    for name in "$row" "${row}_"; do
        { echo 'edition 1'; [ "$row" = 25 ] || printf 'use "%s" as left\nuse "%s" as right\n' "$next" "${next}_"; } >"row/$name.lay"
    done
done
expect 1 'a gathered file larger than any that is read' gather -o gathered.lay row/0.lay
holds 'it says what to do instead' "$err" 'send the files as they are'
no_file 'nothing of it is written' gathered.lay

# After fifty files that cannot be had no more are sought.
missing_files() { # COUNT
    echo 'edition 1'
    for number in $(seq "$1"); do echo "use \"none$number\""; done
}
missing_files 50 >fifty.lay
missing_files 51 >fifty_one.lay
expect 1 'fifty files that cannot be had' check fifty.lay
lacks 'they are all sought' "$out" 'T905'
holds 'to the last' "$out" '"none50" cannot be used'
expect 1 'one file more' check fifty_one.lay
holds 'it is not looked for' "$out" 'fifty_one.lay:52:5: error: 50 used files cannot be found or read'
lacks 'and not told twice' "$out" '"none51" cannot be used'
