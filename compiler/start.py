#!/usr/bin/env python3
"""Sets foldwright up, then starts it. Needs nothing but a Python; any from 3.6 on will do to run this file.

    python3 compiler/start.py build    compile the recipes in recipes/ to build/
    python3 compiler/start.py desk     write, see, plan and print in the browser: recipes/, or a folder that you name
    python3 compiler/start.py test     style, types and the whole suite; with --long every case that is usually left
                                       out, which takes far longer (what else is typed goes to pytest)
    python3 compiler/start.py lint     style, types and the order of the rooms, without the tests
    python3 compiler/start.py bench    how fast it is, beside other work done in the same run
    python3 compiler/start.py units    make the table of units anew from measure/units.txt
    python3 compiler/start.py schemas  make the JSON schemas anew from the types they describe
    python3 compiler/start.py pictures take the README's pictures and sample output anew

The first run makes .venv with a Python 3.12 or newer and installs the exact versions listed in compiler/pinned.txt.
Later runs see that nothing has changed and begin at once.
"""

import concurrent.futures
import glob
import hashlib
import os
import shutil
import subprocess
import sys
import threading

TOP = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
PINNED = os.path.join(TOP, "compiler", "pinned.txt")
VENV = os.path.join(TOP, ".venv")
PROGRAMS = os.path.join(VENV, "Scripts" if os.name == "nt" else "bin")
PYTHON = os.path.join(PROGRAMS, "python")
NPM = os.path.join(VENV, "share", "foldwright")
OLDEST = (3, 12)
PIPS = 2

# What pip cannot bring: Debian's package, and a file or a program by which to tell that it is there.
LIBRARIES = {
    "libpango-1.0-0": "libpango-1.0.so.0",
    "libpangoft2-1.0-0": "libpangoft2-1.0.so.0",
    "libharfbuzz-subset0": "libharfbuzz-subset.so.0",
}
TEST_PROGRAMS = {"chromium": "chromium", "default-jre-headless": "java", "npm": "npm", "poppler-utils": "pdftoppm"}


def main(words):
    command = words[0] if words else ""
    made = {"units": units, "schemas": schemas, "pictures": pictures}
    works = {"build": build, "desk": desk, "test": test, "lint": lint, "bench": bench, **made}
    if command not in works:
        print(__doc__.strip())
        return 0 if command in ("help", "-h", "--help") else 2
    os.chdir(TOP)
    set_up("run" if command in ("build", "desk") else "test")
    return works[command](words[1:])


# --- the work -----------------------------------------------------------------------------------------------------


def build(words):
    status = subprocess.call([PYTHON, "-m", "foldwright", "build", "recipes", "--out", "build"] + words)
    page = os.path.join("build", "index.html")
    if os.path.exists(page):
        print("\nLook at " + page)
    return status


def desk(words):
    return subprocess.call([PYTHON, "-m", "foldwright", "desk"] + words)


def lint(_words=()):
    return tell_checks(begin_checks())


def begin_checks():
    """What is checked without running anything, all at once: the name of each, and what is to come of it."""
    checks = [
        ("style", ["ruff", "check", "--quiet"]),
        ("layout", ["ruff", "format", "--check", "--quiet"]),
        ("types", ["mypy", "--no-error-summary"]),
        ("order of the rooms", ["lint-imports", "--no-logo"]),
    ]
    hands = concurrent.futures.ThreadPoolExecutor(len(checks))
    return [(name, hands.submit(check, program, options)) for name, (program, *options) in checks]


def check(program, options):
    command = [os.path.join(PROGRAMS, program)] + options
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, universal_newlines=True)


def tell_checks(begun):
    failed = []
    for name, coming in begun:
        done = coming.result()
        print("{:<20} {}".format(name, "well" if done.returncode == 0 else "FAILED"), flush=True)
        if done.returncode:
            print(done.stdout, flush=True)
            failed.append(name)
    if failed:
        print("Not in order: " + ", ".join(failed), flush=True)
    return 1 if failed else 0


def test(words):
    if "--long" in words:
        # Processes of the tests get it from here, too.
        os.environ["FOLDWRIGHT_TESTS_LONG"] = "yes"
        words = [word for word in words if word != "--long"]
    begun = [] if words else begin_checks()
    tested = subprocess.call([PYTHON, "-m", "pytest"] + (words or ["-n", "2", "--dist", "worksteal"]))
    linted = tell_checks(begun)
    return tested or linted


def bench(words):
    return subprocess.call([PYTHON, "-m", "bench.bench"] + words, cwd="tests")


def units(_words=()):
    return subprocess.call([PYTHON, "-c", "from foldwright.measure.tabling import write; print(write())"])


def schemas(_words=()):
    return subprocess.call([PYTHON, "-c", "from foldwright.schemas import write_schemas; write_schemas()"])


def pictures(_words=()):
    words_told = subprocess.call([PYTHON, "-m", "workbench.readme"], cwd="tests")
    return words_told or subprocess.call([PYTHON, "-m", "workbench.pictures"], cwd="tests")


# --- setting up ---------------------------------------------------------------------------------------------------


def set_up(purpose):
    """Makes .venv hold what `purpose` (run or test) needs. Quick when it already does."""
    # The system's package manager works while pip does.
    system = concurrent.futures.ThreadPoolExecutor(1).submit(see_to_system, purpose)
    stamp = os.path.join(VENV, "set-up-for-" + purpose)
    wanted = fingerprint()
    if read(stamp) == wanted:
        system.result()
        return
    bring_packages(purpose)
    system.result()
    if purpose == "test":
        install_npm(pinned("npm"))
    for done in ("run", purpose):
        with open(os.path.join(VENV, "set-up-for-" + done), "w") as file:
            file.write(wanted)


def bring_packages(purpose):
    make_venv()
    pins = pinned("run") + (pinned("test") if purpose == "test" else [])
    say("Installing {} packages into .venv (the first time takes a minute or two)".format(len(pins)))
    # One pip works on one core. No package is in two shares, and none is asked what it needs.
    shares = [pins[number::PIPS] for number in range(PIPS)]
    with concurrent.futures.ThreadPoolExecutor(PIPS) as hands:
        for done in [hands.submit(pip, "install", "--no-deps", "--no-compile", *share) for share in shares]:
            done.result()
    pip("install", "--no-deps", "--no-build-isolation", "--editable", TOP)
    # Compiled here, on all cores, as pip would on one; some systems forbid Python to keep bytecode by itself. A few
    # packages hold patterns of files that are no Python yet: nobody has to hear of them. Nobody runs their own tests.
    folders = [os.path.join(VENV, "lib"), os.path.join(TOP, "compiler", "foldwright")]
    subprocess.call([PYTHON, "-m", "compileall", "-qq", "-j", "0", "-x", r"site-packages.*[/\\]tests[/\\]"] + folders)


def fingerprint():
    """Changes whenever the set-up has to be done again."""
    digest = hashlib.sha256()
    for path in (PINNED, os.path.join(TOP, "pyproject.toml"), os.path.abspath(__file__)):
        with open(path, "rb") as file:
            digest.update(file.read())
    digest.update(TOP.encode())
    return digest.hexdigest()


def pinned(section):
    lines = [line.strip() for line in read(PINNED).splitlines()]
    start = lines.index("[" + section + "]") + 1
    found = []
    for line in lines[start:]:
        if line.startswith("["):
            break
        if line and not line.startswith("#"):
            found.append(line)
    return found


def pip(*words):
    command = [PYTHON, "-m", "pip", "--disable-pip-version-check", "--no-input", "--quiet"] + list(words)
    if subprocess.call(command):
        stop("pip could not install what compiler/pinned.txt lists; its own words are above.")


def install_npm(packages):
    npm = shutil.which("npm")
    if npm is None:
        stop("The tests of the pages need npm, which comes with Node.js; install that, then run this again.")
    os.makedirs(NPM, exist_ok=True)
    say("Installing the page checkers: " + ", ".join(packages))
    words = [name.replace("==", "@") for name in packages]
    options = ["--prefix", NPM, "--no-save", "--no-package-lock", "--no-audit", "--no-fund", "--ignore-scripts"]
    if subprocess.call([npm, "install", "--silent"] + options + words):
        stop("npm could not install the page checkers; its own words are above.")


# --- a Python that is new enough ----------------------------------------------------------------------------------


def make_venv():
    """Makes .venv, or makes it anew when its Python has gone or is too old."""
    if version_of(PYTHON) >= OLDEST:
        return
    python = find_python()
    say("Making .venv with " + python)
    if subprocess.call([python, "-m", "venv", "--clear", VENV]):
        major, minor = version_of(python)
        package = "python{}.{}-venv".format(major, minor)
        see_to([package])
        if subprocess.call([python, "-m", "venv", "--clear", VENV]):
            stop("{} cannot make a virtual environment.".format(python))


def find_python():
    """The oldest Python that is new enough: that is the one foldwright is tested with."""
    names = ["python3.{}".format(minor) for minor in range(OLDEST[1], OLDEST[1] + 8)] + ["python3", "python"]
    candidates = [shutil.which(name) for name in names]
    pyenv = os.environ.get("PYENV_ROOT") or os.path.join(os.path.expanduser("~"), ".pyenv")
    candidates += sorted(glob.glob(os.path.join(pyenv, "versions", "*", "bin", "python")))
    candidates += [sys.executable, uv("python", "find", ">=3.12")]
    found = {}
    for candidate in candidates:
        version = version_of(candidate) if candidate else (0, 0)
        if version >= OLDEST:
            found.setdefault(version, candidate)
    if found:
        return found[min(found)]
    if uv("python", "install", "3.12") is not None:
        return uv("python", "find", "3.12")
    raise SystemExit(
        "foldwright needs Python 3.12 or newer, and there is none on this machine: not among the programs, not in\n"
        "pyenv's versions, not with uv. Install one (any of the three ways will do), then run this again."
    )


def version_of(python):
    try:
        words = [python, "-c", "import sys; print('%d %d' % sys.version_info[:2])"]
        answer = subprocess.check_output(words, stderr=subprocess.DEVNULL)
        major, minor = answer.split()
        return int(major), int(minor)
    except (OSError, ValueError, subprocess.CalledProcessError):
        return 0, 0


def uv(*words):
    """What uv answers, or None when it is not there or has nothing to say."""
    program = shutil.which("uv")
    if program is None:
        return None
    try:
        return subprocess.check_output([program] + list(words), stderr=subprocess.DEVNULL).decode().strip()
    except (OSError, subprocess.CalledProcessError):
        return None


# --- what the system's own package manager brings -----------------------------------------------------------------


def see_to_system(purpose):
    missing = [package for package, file in LIBRARIES.items() if not has_library(file)]
    if purpose == "test":
        missing += [package for package, program in TEST_PROGRAMS.items() if shutil.which(program) is None]
    if missing:
        see_to(missing, needed=purpose == "test")


def has_library(file):
    if not sys.platform.startswith("linux"):
        return True
    folders = ("/usr/lib/*/", "/usr/lib/", "/usr/lib64/", "/lib/*/", "/usr/local/lib/")
    return any(glob.glob(folder + file + "*") for folder in folders)


ONE_AT_A_TIME = threading.Lock()
"""Two apt-get do not get along."""


def see_to(packages, needed=True):
    """Installs Debian packages when this user may; says what to type when not."""
    apt = shutil.which("apt-get")
    if apt is None:
        say("Missing on this system (by the names Debian gives them): " + " ".join(packages))
    else:
        install = [apt, "install", "--yes", "--no-install-recommends"] + packages
        before = allowed()
        if before is None:
            say("Missing on this system. Type:\n  sudo apt-get install " + " ".join(packages))
        else:
            say("Installing with apt-get: " + " ".join(packages))
            environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
            with ONE_AT_A_TIME:
                subprocess.call(before + [apt, "update", "-qq"], env=environment)
                if subprocess.call(before + install, env=environment, stdout=subprocess.DEVNULL) == 0:
                    return
            say("apt-get could not install them; its own words are above.")
    if needed:
        stop("Without them this cannot go on.")


def allowed():
    """The words to put before apt-get: none for root, sudo when it asks for no password, None when it would."""
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        return []
    sudo = shutil.which("sudo")
    if sudo and subprocess.call([sudo, "-n", "true"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0:
        return [sudo, "-n"]
    return None


# --- small things -------------------------------------------------------------------------------------------------


def read(path):
    try:
        with open(path, encoding="utf-8") as file:
            return file.read()
    except OSError:
        return ""


def say(text):
    print(text, file=sys.stderr, flush=True)


def stop(text):
    say(text)
    sys.exit(2)


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
