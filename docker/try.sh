#!/usr/bin/env bash
# Builds the images and runs compose.yaml on a Debian machine that reaches Debian's packages and PyPI but no image registry,
# calls the service through the proxy, kills one replica and replaces both under load, makes the calls that take the most memory,
# and takes everything down again.
#
#   docker/try.sh        as root; exit 0 when every step held
#
# What differs from a machine with a registry is only where the base images come from: mmdebstrap makes them here.
# Missing tools are installed with apt-get. Everything else lives under TRY_DIR: tools, images, containers and networks of its
# own, apart from any others on this machine. It is kept, so that a second run is fast; delete it to begin afresh.
#
# Environment, all optional:
#   TRY_DIR          where it works                                      (/var/tmp/mendgauge-try)
#   CA_FILE          certificate authorities to trust while building     (the machine's own list)
#   PIP_CONFIG_FILE  pip's settings while building                       (/etc/pip.conf, where there is one)
# Both files are mounted for the build steps alone and are in no image.
set -euo pipefail
cd "$(dirname "$0")/.."

TRY_DIR=${TRY_DIR:-/var/tmp/mendgauge-try}
CA_FILE=${CA_FILE:-/etc/ssl/certs/ca-certificates.crt}
PIP_CONFIG_FILE=${PIP_CONFIG_FILE:-/etc/pip.conf}
SUITE=bookworm
PODMAN_COMPOSE_VERSION=1.6.0
PROJECT=mendgauge-try
# What compose.yaml gives a replica; podman-compose hands it on to no stop of a single container.
STOP_SECONDS=20

say()  { printf '\n== %s\n' "$*"; }
fail() { printf 'FAILED: %s\n' "$*" >&2; exit 1; }

# Where no systemd and no syslog run, podman says so with every start and stop; the health checks, which systemd would time, are run below.
without_noise() { "$@" 2> >(grep -vE 'unable to get systemd connection|failed to connect to syslog' >&2); }

install_tools() {
    local missing=() tool
    for tool in podman buildah mmdebstrap runc iptables curl; do
        command -v "$tool" > /dev/null || missing+=("$tool")
    done
    [ -x /usr/lib/podman/netavark ] || missing+=(netavark)
    [ -x /usr/lib/podman/aardvark-dns ] || missing+=(aardvark-dns)
    python3 -c 'import ensurepip' 2> /dev/null || missing+=(python3-venv)
    if [ "${#missing[@]}" -gt 0 ]; then
        echo "installing ${missing[*]}"
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -qq --yes --no-install-recommends "${missing[@]}" > /dev/null
    fi
    if [ ! -x "$TRY_DIR/tools/bin/podman-compose" ]; then
        python3 -m venv "$TRY_DIR/tools"
        "$TRY_DIR/tools/bin/pip" install --quiet --disable-pip-version-check "podman-compose==$PODMAN_COMPOSE_VERSION"
    fi
    "$TRY_DIR/tools/bin/pip" install --quiet --disable-pip-version-check --force-reinstall ./sdk
    podman --version
    buildah --version
    echo "podman-compose $PODMAN_COMPOSE_VERSION"
}

# A container may not be given higher limits than this shell has: without the capability to raise them it would not start.
# buildah first lowers its own limit of processes to the kernel's highest process number.
write_engine_settings() {
    local files processes highest
    files=$(ulimit -Hn)
    processes=$(ulimit -Hu)
    highest=$(cat /proc/sys/kernel/pid_max)
    if [ "$processes" = unlimited ] || [ "$processes" -gt "$highest" ]; then processes=$highest; fi
    cat > "$CONTAINERS_CONF" <<END
[containers]
default_ulimits = ["nofile=$files:$files", "nproc=$processes:$processes"]
[engine]
runtime = "runc"
[network]
network_backend = "netavark"
network_config_dir = "$TRY_DIR/networks"
END
    cat > "$CONTAINERS_STORAGE_CONF" <<END
[storage]
driver = "overlay"
graphroot = "$TRY_DIR/images"
runroot = "$TRY_DIR/run"
END
}

build() {
    buildah bud --format docker --layers --isolation chroot --network host "$@" > "$TRY_DIR/build.log" 2>&1 \
        || { cat "$TRY_DIR/build.log" >&2; buildah rm --all > /dev/null; fail "an image could not be built"; }
}

make_bases() {
    if ! podman image exists localhost/base-debian; then
        mmdebstrap --quiet --variant=apt --include=usr-is-merged \
            --hook-dir=/usr/share/mmdebstrap/hooks/merged-usr \
            --dpkgopt='path-exclude=/usr/share/doc/*' --dpkgopt='path-exclude=/usr/share/man/*' \
            --dpkgopt='path-exclude=/usr/share/locale/*' \
            --customize-hook='rm -f "$1/etc/resolv.conf" "$1/etc/hostname"' \
            "$SUITE" "$TRY_DIR/base-debian.tar" > /dev/null 2> "$TRY_DIR/mmdebstrap.log" \
            || { cat "$TRY_DIR/mmdebstrap.log" >&2; fail "mmdebstrap made no base image"; }
        podman import --quiet "$TRY_DIR/base-debian.tar" localhost/base-debian > /dev/null
        rm "$TRY_DIR/base-debian.tar"
    fi
    mkdir -p "$TRY_DIR/empty"
    build --tag localhost/base-python --file - "$TRY_DIR/empty" <<'END'
FROM localhost/base-debian
RUN apt-get update -qq \
    && apt-get install -qq --yes --no-install-recommends python3 python3-venv \
    && rm -rf /var/lib/apt/lists/* /var/cache/apt/*.bin
END
}

build_images() {
    local secrets=()
    [ ! -s "$CA_FILE" ] || secrets+=(--secret "id=ca,src=$CA_FILE")
    [ ! -s "$PIP_CONFIG_FILE" ] || secrets+=(--secret "id=pip_conf,src=$PIP_CONFIG_FILE")
    build --build-arg BASE=localhost/base-python "${secrets[@]}" --tag mendgauge --file docker/Dockerfile .
    build --build-arg BASE=localhost/base-debian --tag mendgauge-proxy --file docker/proxy/Dockerfile .
    podman images --filter dangling=false --filter label=org.opencontainers.image.title --format '{{.Repository}}: {{.Size}}'
}

compose() { without_noise "$TRY_DIR/tools/bin/podman-compose" --project-name "$PROJECT" --file compose.yaml "$@"; }

# Prints the answer's body; fails unless the status is 200.
call() {
    local method=$1 path=$2
    shift 2
    curl --silent --show-error --fail-with-body --max-time 5 --request "$method" "$@" "http://127.0.0.1:$PUBLISHED_PORT$path"
}

REQUEST='{"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "injuries": [{"region": "tread", "across_mm": 20, "diameter_mm": 4}]}'
ask() { call POST /v1/repairability --header 'Content-Type: application/json' --data "$REQUEST"; }

wait_until_ready() {
    local tries
    for tries in $(seq 100); do
        call GET /health/ready > /dev/null 2>&1 && return
        sleep 0.1
    done
    compose logs >&2 || true
    fail "the service was not ready through the proxy within 10 seconds ($tries tries)"
}

containers() { podman ps --filter "label=io.podman.compose.project=$PROJECT" --format '{{.Names}}'; }

check_health() {
    local name
    for name in $(containers); do
        podman healthcheck run "$name" > /dev/null || fail "$name says it is not healthy"
        echo "$name is healthy"
    done
}

# What the kernel says of the first process of each container, not what compose.yaml asks for.
check_lock_down() {
    local name pid
    for name in $(containers); do
        pid=$(podman inspect --format '{{.State.Pid}}' "$name")
        grep -q '^CapEff:[[:space:]]0*$' "/proc/$pid/status" || fail "$name holds capabilities"
        grep -q '^CapBnd:[[:space:]]0*$' "/proc/$pid/status" || fail "$name could gain capabilities"
        grep -q '^NoNewPrivs:[[:space:]]1$' "/proc/$pid/status" || fail "$name may gain privileges"
        ! grep -q '^Uid:[[:space:]]0' "/proc/$pid/status" || fail "$name runs as root"
        awk '$5 == "/" && $6 ~ /(^|,)ro(,|$)/ { found = 1 } END { exit !found }' "/proc/$pid/mountinfo" \
            || fail "$name can write to its root"
        if [[ $name == *_api_* ]]; then
            awk 'NR > 1 && $2 == "00000000" { found = 1 } END { exit found }' "/proc/$pid/net/route" \
                || fail "$name has a way out of the replicas' network"
        fi
        echo "$name: user $(awk '/^Uid:/ { print $2 }' "/proc/$pid/status"), no capabilities, no new privileges, read-only root"
    done
}

call_each_capability() {
    local ready rulebooks verdict
    ready=$(call GET /health/ready)
    echo "GET /health/ready: $ready"
    rulebooks=$(call GET /v1/rulebooks)
    echo "GET /v1/rulebooks: ${rulebooks:0:300}"
    verdict=$(ask)
    echo "POST /v1/repairability: ${verdict:0:300}"
    [[ $rulebooks == *'"gb"'* ]] || fail "the rulebooks do not name gb"
    [[ $verdict == *'"verdict":'* ]] || fail "the answer has no verdict"
}

# What goes over the wire through the proxy: answers in the coding that is asked for, bodies packed with gzip.
check_codings() {
    local coding got
    for coding in gzip zstd identity; do
        got=$(call POST /v1/repairability --header 'Content-Type: application/json' --header 'Content-Encoding: gzip' \
            --header "Accept-Encoding: $coding" --data-binary @<(gzip --stdout <<< "$REQUEST") \
            --output /dev/null --write-out '%header{content-encoding} %{size_download}')
        [[ $got == "${coding/identity/} "* ]] || fail "an answer asked for in $coding came as '$got'"
        echo "POST /v1/repairability, $coding: ${got##* } bytes"
    done
}

# The proxy logs which replica answered each call.
both_replicas_answer() {
    local answered
    for _ in $(seq 20); do ask > /dev/null; done
    answered=$(podman logs "${PROJECT}_proxy_1" 2>&1 | grep 'POST /v1/repairability' | grep -o 'replicas/api[0-9]*' | sort | uniq -c) || true
    echo "$answered"
    [ "$(wc -l <<< "$answered")" = 2 ] || fail "the calls did not spread over two replicas"
}

# Waits until the proxy sends calls to both replicas again. It logs of a replica that it goes down, too: calls alone count.
wait_for_both() {
    local tries since answered
    for tries in $(seq 60); do
        since=$(date +%Y-%m-%dT%H:%M:%S.%N%:z)
        sleep 0.5
        answered=$(podman logs --since "$since" "${PROJECT}_proxy_1" 2>&1 | grep 'POST /v1/repairability' | grep -o 'replicas/api[0-9]*' | sort -u) || true
        [ "$(wc -l <<< "$answered")" = 2 ] && return
    done
    fail "the proxy sent no calls to both replicas within 30 seconds ($tries tries)"
}

# Fails unless the replica ends by itself: an engine that had to kill it says 137.
stop_replica() {
    local status
    without_noise podman stop --time "$STOP_SECONDS" "$1" > /dev/null
    status=$(podman inspect --format '{{.State.ExitCode}}' "$1")
    [ "$status" != 137 ] || fail "$1 did not stop within $STOP_SECONDS seconds and was killed"
}

# A replica is stopped as soon as it handles the signal, long before it serves.
stop_while_it_starts() {
    local name=${PROJECT}_api_1 pid caught tries
    stop_replica "$name"
    without_noise podman start "$name" > /dev/null
    pid=$(podman inspect --format '{{.State.Pid}}' "$name")
    for tries in $(seq 500); do
        caught=$(awk '/^SigCgt:/ { print "0x" $2 }' "/proc/$pid/status")
        (( caught & 1 << 14 )) && break
        sleep 0.01
    done
    (( caught & 1 << 14 )) || fail "$name does not handle SIGTERM after 5 seconds ($tries tries)"
    ! podman logs --tail 1 "$name" | grep -q 'startup complete' || fail "$name handles SIGTERM only once it serves"
    stop_replica "$name"
    without_noise podman start "$name" > /dev/null
    echo "$name stopped before it served"
}

# Calls go on, with the Python client and without it, while one replica is killed and every replica is replaced in turn.
replace_under_load() {
    local stop=$TRY_DIR/stop loading name
    rm -f "$stop"
    "$TRY_DIR/tools/bin/python" docker/calls.py "http://127.0.0.1:$PUBLISHED_PORT" "$stop" &
    loading=$!
    wait_for_both
    podman kill --signal KILL "${PROJECT}_api_1" > /dev/null
    echo "${PROJECT}_api_1 was killed"
    sleep 2
    without_noise podman start "${PROJECT}_api_1" > /dev/null
    wait_for_both
    for name in $(containers | grep _api_); do
        stop_replica "$name"
        without_noise podman start "$name" > /dev/null
        wait_for_both
        echo "$name was replaced"
    done
    touch "$stop"
    wait "$loading" || fail "calls were lost"
}

# What takes the most memory: batches of a thousand whole cases and pages to print, all at once. Where memory ran out the
# kernel would have ended a process: the service, which the engine would start again, or the press, whose page would fail.
heaviest_load() {
    local example=openapi/examples/plan_repair/everything_for_the_counter.json calls=() call answered name
    python3 - "$example" "$TRY_DIR" <<'END'
import json, sys
case = json.load(open(sys.argv[1]))["request"]
json.dump({"items": [case] * 1000}, open(f"{sys.argv[2]}/batch.json", "w"))
json.dump(case, open(f"{sys.argv[2]}/case.json", "w"))
END
    for _ in 1 2 3 4 5 6 7 8; do
        for call in repair-plans/batch:batch job-cards:case; do
            curl --silent --output /dev/null --write-out "${call%:*} %{http_code}\n" --max-time 120 \
                --header 'Content-Type: application/json' --data-binary "@$TRY_DIR/${call#*:}.json" \
                "http://127.0.0.1:$PUBLISHED_PORT/v1/${call%:*}" >> "$TRY_DIR/answered" &
            calls+=($!)
        done
    done
    wait "${calls[@]}" || fail "a call was not answered"
    answered=$(sort "$TRY_DIR/answered" | uniq -c)
    rm "$TRY_DIR/answered"
    echo "$answered"
    ! grep -vE ' (200|503)$' <<< "$answered" || fail "a call failed for want of memory"
    for name in $(containers); do
        [ "$(podman inspect --format '{{.State.OOMKilled}} {{.RestartCount}}' "$name")" = 'false 0' ] || fail "$name ran out of memory"
        echo "$name: $(most_memory_mb "$name") MB at most"
    done
}

# The most that a container ever held, as the kernel counts it, its files in memory included.
most_memory_mb() {
    local group file
    group=$(podman inspect --format '{{.State.CgroupPath}}' "$1")
    for file in "/sys/fs/cgroup$group/memory.peak" "/sys/fs/cgroup/memory$group/memory.max_usage_in_bytes"; do
        [ -r "$file" ] && { echo $(( $(< "$file") / 1000000 )); return; }
    done
    echo 'unknown'
}

take_down() {
    say "Taking everything down"
    compose down --timeout 10 > /dev/null 2>&1 || true
    [ -z "$(podman ps --all --quiet)" ] || fail "containers are left: $(podman ps --all --format '{{.Names}}' | paste -sd ' ')"
    echo "no container is left"
}

[ "$(id -u)" = 0 ] || fail "run this as root: it makes a base image and networks"
mkdir -p "$TRY_DIR"
unset "${!MENDGAUGE_@}"  # the settings tried are the default ones
export CONTAINERS_CONF=$TRY_DIR/containers.conf CONTAINERS_STORAGE_CONF=$TRY_DIR/storage.conf

say "Tools: podman, buildah and mmdebstrap from Debian, podman-compose from PyPI"
write_engine_settings
install_tools

say "Base images: Debian $SUITE, and the same with Python"
make_bases

say "Images: the service and the proxy"
build_images

PUBLISHED_PORT=$(python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
export PUBLISHED_PORT
say "Up: two replicas behind the proxy on http://127.0.0.1:$PUBLISHED_PORT"
trap take_down EXIT
compose up --no-build --detach > /dev/null
wait_until_ready
containers

say "Health checks, run as the engine would"
check_health

say "Lock-down, as the kernel sees it; the replicas have no way out of their network"
check_lock_down

say "Calls through the proxy"
call_each_capability
check_codings
both_replicas_answer

say "Stopping a replica while it starts"
stop_while_it_starts
wait_until_ready

say "Killing one of the two replicas and replacing both, under load"
replace_under_load

say "The heaviest load, within 256 MB a replica"
heaviest_load

say "Memory in use"
podman stats --no-stream --format '{{.Name}}: {{.MemUsage}}'
