# make itself reads back what was written for it, whatever is in the names.
mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ sed 's/of navy/of mist/' good.lay; echo 'use "shop/threads"'; } >user.lay

# Fills a folder: what the page rests on, a page that is newer, and names that a pattern might take by mistake.
lay_out() { # PAGE FILE USED
    rm -rf bench
    mkdir -p bench/shop
    cd bench || exit 1
    cp ../shop/threads.lay "./$3"
    { sed 's/of navy/of mist/' ../good.lay; echo "use \"${3%.lay}\""; } >"./$2"
    touch -d @1000 "./$2" "./$3"
    turnlay plan -MF deps -o "$1" -- "$2"
    touch -d @2000 "./$1"
    touch -d @3000 aXb Xb aX aXb.lay
    # One recipe for whatever is to be made, which tells the name.
    printf 'include deps\n%%: ; @$(info made [$@]) :\n' >Makefile
}

# Whether make wants to make the page, whose name it takes without ./ before it. On its command line = and ~ mean
# something else, so that there the first target is what it makes.
makes() { # PAGE
    case $1 in
    *[=~]*) make -rR >made 2>"$err" ;;
    *) make -rR -- "$1" >made 2>"$err" ;;
    esac || return 2
    grep -qxF -- "made [${1#./}]" made
}

reads_back() { # WHAT PAGE FILE USED CHANGED
    local wrong=
    lay_out "$2" "$3" "$4"
    [ "$code" = 0 ] || wrong="$wrong, not written"
    makes "$2"
    [ $? = 1 ] || wrong="$wrong, a fresh page is made"
    touch -d @3000 "./$5"
    makes "$2" || wrong="$wrong, the change is not seen"
    if [ "$5" = "$4" ]; then
        rm "./$4"
        makes "$2" || wrong="$wrong, the vanished file stops make"
    fi
    cd .. || exit 1
    verdict "make reads $1 ${name@Q}$wrong" "${#wrong}"
}

for name in plain 'a;b' ';' 'a;b;c' 'a;' 'a|b' '|' 'a=b' '=' 'a=' 'a:=b' 'a+=b' 'a:b' ':' 'a::b' 'a#b' '#a' 'a#b#c' 'a$b' \
    '$x' '$$' 'a b' ' a' 'a ' 'a  b' 'a b#' $'a\tb' $'\ta' $'a\t' 'a%b' '%' 'a*b' '*' 'a?b' 'a[X]b' 'a[b' '[' 'a]b' '~' \
    '~root' '~x' ./~root './a*b' 'a~b' -a -lx -- 'a&' 'a&b' '&' 'a!b' 'a,b' '(a)' 'a(b' 'a)b' 'a()' 'a{b}' 'a@b' '<a>' "a'b" 'a"b' \
    'a\' '\' 'a\\' '\a' 'a\b' 'a\ b' 'a\;b' 'a\\;b' 'a\|b' 'a\=b' 'a\:b' 'a\\:b' 'a\#b' 'a\$b' 'a\%b' 'a\*b' 'a\[b' '*\' \
    'a\:*' 'a*:b' 'a ;#|=:$*?[\b' include 'include x' define undefine private export endif '-include x' 'ifeq (a,b' override vpath .hidden \
    $'a\x01b' 'tränke'; do
    reads_back 'an output' "$name" user.lay shop/threads.lay user.lay
    reads_back 'a file' page "$name" shop/threads.lay "$name"
    # A used file's name never holds these.
    case $name in
    *[\\\"$'\t\x01']* | ' a' | ./*) ;;
    *) reads_back 'a used file' page user.lay "$name.lay" "$name.lay" ;;
    esac
done

# What make has no spelling for is refused, and leaves nothing that it takes for fresh.
unreadable() { # OUTPUT FILE
    rm -f break.d "./$1"
    expect 2 "make cannot read ${1@Q} of ${2@Q}" plan -MF break.d -o "$1" -- "$2"
    holds 'it says so, and what helps' "$err" 'which make cannot read; give that file another name'
    no_file 'what make cannot read is not written' break.d
    no_file 'nor is the page' "./$1"
}
for name in $'line\nbreak' $'line\rbreak' 'a(b)' 'page(old)' 'page (old)' .PHONY ./.PHONY .WAIT '50%*' '%[x]' '~%'; do
    cp user.lay "./$name"
    unreadable page "$name"
    unreadable "$name" user.lay
done
expect 2 'a folder, for which make has a spelling' plan -MF break.d -o page .
no_file 'is no file to be planned' break.d
