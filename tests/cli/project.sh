# A project's root: the nearest folder above a file, or its own, that holds a file turnlay.root.
threads() { # FILE
    mkdir -p "$(dirname "$1")"
    { echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >"$1"
}
rod() { # FILE PATH...: uses these, and winds mist
    mkdir -p "$(dirname "$1")"
    { sed 's/of navy/of mist/' good.lay; printf 'use "%s"\n' "${@:2}"; } >"$1"
}
took() { # NAME PATH ARGUMENT...
    turnlay check -v "${@:3}"
    [ "$code" = 0 ] && grep -qF "using $2 for " "$err"
    verdict "$1" $?
}

mkdir -p work/rods/2026 lib
rod work/rods/2026/mine.lay shop/threads
threads work/shop/threads.lay
expect 1 'without a root nothing above is read' check work/rods/2026/mine.lay
holds 'it says that the file lies above' "$out" 'looked for in work/rods/2026; it lies above, in work'
holds 'and what marks the root' "$out" 'put an empty file named turnlay.root there: it marks the root of your project'
: >work/turnlay.root
took 'the root is found two folders above' work/shop/threads.lay work/rods/2026/mine.lay
took 'two strokes are one' work/shop/threads.lay work/rods//2026/mine.lay
here=$PWD
cd work || exit 1
took 'from the root itself' shop/threads.lay rods/2026/mine.lay
cd rods/2026 || exit 1
took 'from beside the file' ../../shop/threads.lay mine.lay
took 'spelled with a dot' ../../shop/threads.lay ./mine.lay
turnlay plan mine.lay
cp "$out" "$work/project/near.plan"
cd ../../shop || exit 1
took 'from a folder beside' ../shop/threads.lay ../rods/2026/mine.lay
cd ../rods || exit 1
took 'of standard input it is that of the working folder' ../shop/threads.lay - <2026/mine.lay
took 'of a file with its whole path' "$here/work/shop/threads.lay" "$here/work/rods/2026/mine.lay"
cd "$here" || exit 1

# The order: beside, the root, -I, TURNLAY_PATH.
threads lib/shop/threads.lay
took 'the root comes before -I' work/shop/threads.lay -I lib work/rods/2026/mine.lay
threads work/rods/2026/shop/threads.lay
took 'beside comes before the root' work/rods/2026/shop/threads.lay work/rods/2026/mine.lay
rm -r work/rods/2026/shop work/shop
took '-I comes after the root' lib/shop/threads.lay -I lib work/rods/2026/mine.lay
expect 1 'found nowhere' check work/rods/2026/mine.lay
holds 'the root is named among the folders' "$out" "looked for in work/rods/2026, work (the project's root)"
lacks 'no word of a folder above' "$out" 'it lies above'
threads shop/threads.lay
expect 1 'above the root nothing is read' check work/rods/2026/mine.lay
lacks 'and nothing said of it' "$out" 'it lies above'
rm -r shop
threads work/shop/threads.lay

# The nearest root counts, and a file in the root itself needs no second look.
: >work/rods/turnlay.root
expect 1 'the nearest root counts, and no other' check work/rods/2026/mine.lay
rm work/rods/turnlay.root
rod work/mine.lay shop/gone
expect 1 'a file in the root' check work/mine.lay
holds 'beside it and in the root are one' "$out" '"shop/gone" cannot be used: looked for in work'
lacks 'it is looked for once' "$out" 'looked for in work,'

# Used files have the root, too; the same file is one file however it is come by.
threads work/shop/colours.lay
{ echo 'edition 1'; echo 'use "shop/colours"'; } >work/shop/threads.lay
rod work/rods/2026/both.lay shop/threads shop/colours
turnlay check -v work/rods/2026/both.lay
[ "$code" = 0 ] && grep -qF 'using work/shop/colours.lay for "shop/colours" in work/shop/threads.lay' "$err"
verdict 'what a used file uses is looked for in the root' $?

# A project that was sent lies within one's own, and has its own root.
mkdir -p work/sent/rods
: >work/sent/turnlay.root
threads work/sent/shop/threads.lay
{ echo 'edition 1'; echo 'use "shop/threads"'; echo 'use "shop/colours"'; } >work/sent/rods/theirs.lay
rod work/rods/2026/like.lay shop/colours sent/rods/theirs
expect 1 'what was sent reads nothing of ours' check -v work/rods/2026/like.lay
holds 'it reads its own' "$err" 'using work/sent/shop/threads.lay for "shop/threads" in work/sent/rods/theirs.lay'
holds 'and no other' "$out" "looked for in work/sent/rods, work/sent (the project's root)"
rm work/sent/turnlay.root
expect 0 'without a root of its own it has ours' check -v work/rods/2026/like.lay
holds 'and takes our threads' "$err" 'using work/shop/threads.lay for "shop/threads" in work/sent/rods/theirs.lay'

# A folder of -I is no way to what lies above it.
: >turnlay.root
threads shop/threads.lay
mkdir -p lib/inner
{ echo 'edition 1'; echo 'use "shop/threads"'; } >lib/inner/all.lay
rm -r lib/shop
rod alone/rods/mine.lay inner/all
: >alone/turnlay.root
turnlay check -v -I lib alone/rods/mine.lay
[ "$code" = 1 ] && ! grep -qF 'using shop/threads.lay' "$err"
verdict 'a root above a folder of -I is not read' $?
lacks 'nor is it said what lies there' "$out" 'it lies above'
: >lib/turnlay.root
threads lib/shop/threads.lay
sed -i 's/of mist/of foam/' alone/rods/mine.lay
took 'a root within it is' lib/shop/threads.lay -I lib alone/rods/mine.lay
rm -r turnlay.root shop

# What marks a root is a file, nothing else; it is not read.
rm work/turnlay.root
not_a_root() { # NAME
    turnlay check work/rods/2026/mine.lay
    [ "$code" = 1 ] && grep -qF '"shop/threads" cannot be used' "$out"
    verdict "no root: $1" $?
    rm -rf work/turnlay.root
}
threads work/shop/threads.lay
mkdir work/turnlay.root
not_a_root 'a folder of that name'
mkfifo work/turnlay.root
not_a_root 'a pipe of that name'
ln -s nothing work/turnlay.root
not_a_root 'a link that leads nowhere'
: >marked
ln -s ../marked work/turnlay.root
not_a_root 'a link to a file'
: >work/Turnlay.root
not_a_root 'capital letters'
head -c 300000 /dev/urandom >work/turnlay.root
chmod a-r work/turnlay.root
took 'what stands in it does not matter' work/shop/threads.lay work/rods/2026/mine.lay
chmod a+r work/turnlay.root

# Paths and links lead out of the root no more than out of any folder.
out_of_root() { # NAME CODE PATH
    rod work/rods/leak.lay "$3"
    turnlay check -v work/rods/leak.lay
    [ "$code" = 1 ] && grep -q "$2" "$out" && ! grep -q 'using .*secret' "$err"
    verdict "$1" $?
}
threads outside/secret.lay
ln -s ../../outside/secret.lay work/shop/leak.lay
ln -s ../outside work/away
out_of_root 'a link in the root that leads out' T022 shop/leak
out_of_root 'a linked folder in the root that leads out' T022 away/secret
out_of_root 'a path with .. from the root' T022 shop/../../outside/secret
ln -s threads.lay work/shop/alias.lay
rod work/rods/2026/aliased.lay shop/alias
took 'a link within the root is allowed' work/shop/alias.lay work/rods/2026/aliased.lay
mkfifo work/shop/pipe.lay
out_of_root 'a pipe in the root is not waited for' T023 shop/pipe

# Above is where the folder lies, not where a link to it does.
mkdir -p elsewhere
ln -s ../work/rods/2026 elsewhere/linked
took 'through a link the root is above the folder itself' elsewhere/linked/../../shop/threads.lay elsewhere/linked/mine.lay
mkdir -p work/links
ln -s ../../alone/rods work/links/rods
rm alone/turnlay.root
rod alone/rods/mine.lay shop/threads
expect 1 'and not above the link' check work/links/rods/mine.lay

# Where a project lies shows on no page.
cp -r work moved
cd moved/rods/2026 || exit 1
turnlay plan mine.lay
same 'the same plan from another folder' "$out" "$work/project/near.plan"
cd "$here" || exit 1

# For make: the root's file is one of those that the result rests on, if something was found by it.
expect 0 'plan -MF of a project' plan -MF project.d -o project.text work/rods/2026/mine.lay
holds 'the used file is named' project.d ' work/shop/threads.lay'
holds 'and what marks the root' project.d ' work/turnlay.root'
grep -qx 'work/turnlay.root:' project.d
verdict 'should that vanish, make goes on' $?
expect 0 'nothing found by the root' plan -MF beside.d -o beside.text good.lay
lacks 'it is not named' beside.d 'turnlay.root'
expect 2 'the root is spared' plan -o work/turnlay.root work/rods/2026/mine.lay
holds 'and it is said why' "$err" 'would be written over work/turnlay.root'
