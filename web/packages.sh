# Installs what the two commands web/serve and tests/run need, from the distribution's own packages. Sourced, not run.
# Made for Debian 12, Debian 13 and Ubuntu 24.04. Says what it is going to install before it does.

# say SENTENCE - to the person, apart from the output of programs.
say() { printf '\n== %s\n' "$*"; }

# give_up SENTENCE - ends with a clear last line.
give_up() {
    printf '\n%s\n' "$*" >&2
    exit 1
}

# need_packages WHAT:PACKAGE... - WHAT is a command, or a file when it begins with '/'. Installs the packages of what is missing.
need_packages() {
    local pair what missing=()
    for pair in "$@"; do
        what=${pair%%:*}
        case $what in
            /*) [ -e "$what" ] || missing+=("${pair##*:}") ;;
            *) command -v "$what" > /dev/null 2>&1 || missing+=("${pair##*:}") ;;
        esac
    done
    [ "${#missing[@]}" -gt 0 ] || return 0

    command -v apt-get > /dev/null 2>&1 ||
        give_up "This machine has no apt-get. Install by hand, then run this again: ${missing[*]}"
    local root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo > /dev/null 2>&1 ||
            give_up "Root's right is needed to install: ${missing[*]}. Run this as root, or install them first."
        root=(sudo)
    fi
    say "Installing from this machine's package mirrors: ${missing[*]}"
    "${root[@]}" apt-get update -q ||
        give_up "The package lists could not be fetched. Look at the network and at the sources in /etc/apt, then run this again."
    "${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}" ||
        give_up "These packages could not be installed: ${missing[*]}. The lines above say why."
    hash -r
}

# What building the page takes.
need_page_packages() {
    need_packages em++:emscripten cmake:cmake ninja:ninja-build python3:python3 xz:xz-utils ccache:ccache \
        pyftsubset:fonttools /usr/share/fonts/truetype/dejavu/DejaVuSansCondensed.ttf:fonts-dejavu-extra \
        /usr/include/glm:libglm-dev /usr/include/eigen3/Eigen:libeigen3-dev /usr/include/nlohmann:nlohmann-json3-dev \
        /usr/include/fmt:libfmt-dev /usr/include/fast_float:libfast-float-dev
}

# What the tests take beyond that.
need_test_packages() {
    need_page_packages
    need_packages g++:g++ /usr/include/doctest:doctest-dev git:git /etc/ssl/certs/ca-certificates.crt:ca-certificates \
        /usr/include/jpeglib.h:libjpeg-dev /usr/include/png.h:libpng-dev
    # A node from elsewhere brings its own npm, and the distribution's would not install beside it.
    if command -v node > /dev/null 2>&1; then
        need_packages npm:npm
    else
        need_packages node:nodejs npm:npm
    fi
}

# need_browser - puts the program of a Chromium into FW_CHROMIUM, which may name one already; false, with a sentence, where none
# is to be had. Asked for its version, since Ubuntu's package is an empty shell until a snap fills it.
need_browser() {
    local place
    if [ -n "${FW_CHROMIUM:-}" ]; then
        "$FW_CHROMIUM" --version > /dev/null 2>&1 && return 0
        echo "FW_CHROMIUM names '$FW_CHROMIUM', which does not run as a browser." >&2
        return 1
    fi
    [ "$(. /etc/os-release && echo "$ID")" = ubuntu ] || command -v chromium-browser > /dev/null 2>&1 || need_packages chromium:chromium
    for place in /usr/bin/chromium /usr/bin/chromium-browser /snap/bin/chromium /usr/bin/google-chrome; do
        if "$place" --version > /dev/null 2>&1; then
            export FW_CHROMIUM=$place
            return 0
        fi
    done
    echo "The page tests need a Chromium, and none runs here. Ubuntu has it as a snap only: 'sudo snap install chromium'; or bring" >&2
    echo "another build of it, and name its program: FW_CHROMIUM=/path/to/chromium tests/run page" >&2
    return 1
}

# get_imgui TREE - Dear ImGui's sources into the build area, once; does nothing when IMGUI_DIR names a folder.
get_imgui() {
    [ -z "${IMGUI_DIR:-}" ] || return 0
    "$1/web/get-imgui" "$1/build/imgui" || give_up "Dear ImGui could not be fetched; IMGUI_DIR=<folder with imgui.h> uses another copy."
}

# configure TREE FOLDER OPTION... - the build folder for Ninja; quick when nothing has changed. The files of a folder are
# compiled together, which spares most of the time.
configure() {
    local tree=$1 folder=$2
    shift 2
    # What one folder has compiled another need not, wherever they lie.
    export CCACHE_BASEDIR=$tree CCACHE_NOHASHDIR=1
    cmake -S "$tree" -B "$folder" -G Ninja -DIMGUI_DIR="${IMGUI_DIR:-}" \
        -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=32 "$@" > "$folder.log" 2>&1 ||
        { cat "$folder.log" >&2; give_up "The build could not be set up in $folder; the lines above say why."; }
}
