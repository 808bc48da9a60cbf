# An installed copy finds its standard library, wherever it was put.
build=$(dirname "$TURNLAY")
# -o: install this very program, whatever has changed since it was built.
make -s -C "$root" -o "$build/turnlay" -o "$build/turnlay-pdf" -o "$build/libturnlay.a" BUILD="$build" DESTDIR="$PWD/target" PREFIX=/usr install >"$out" 2>"$err"
code=$?
verdict 'make install' "$code"
mv target moved
{ cat good.lay; echo 'use "std/trims"'; } >standard.lay
built=$TURNLAY
TURNLAY=$PWD/moved/usr/bin/turnlay
expect 0 'an installed copy that was moved' check -v standard.lay
holds 'it takes its own standard library' "$err" "using $PWD/moved/usr/share/turnlay/stdlib/trims.lay"
mkdir bin
ln -s ../moved/usr/bin/turnlay bin/turnlay
TURNLAY=$PWD/bin/turnlay
expect 0 'an installed copy called through a link' check -v standard.lay
holds 'it still takes its own standard library' "$err" "$PWD/moved/usr/share/turnlay/stdlib/trims.lay"
TURNLAY=$built
