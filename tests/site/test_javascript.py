"""The JavaScript is held to its types and linted: a slip stops scripts/test before anything is built."""

import shutil
import subprocess
from pathlib import Path

import pytest

from scripts.release_hook import served

ROOT = Path(__file__).resolve().parents[2]
CHECK = ("npm", "run", "--silent", "check")


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """Only what the check reads, to be broken."""
    folder = tmp_path_factory.mktemp("house")
    for name in ("package.json", "tsconfig.json", ".oxlintrc.json"):
        shutil.copy(ROOT / name, folder)
    shutil.copytree(ROOT / "docs/assets", folder / "docs/assets")
    for name in ("scripts", "tests"):
        (folder / name).mkdir()
    for path in (ROOT / "scripts").iterdir():
        if path.suffix in {".js", ".mjs", ".ts", ".json"}:
            shutil.copy(path, folder / "scripts")
    (folder / "node_modules").symlink_to(ROOT / "node_modules")
    return folder


def checked(folder):
    done = subprocess.run(CHECK, cwd=folder, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


def test_scripts_test_checks_the_javascript():
    assert f"\n{' '.join(CHECK)}\n" in (ROOT / "scripts/test").read_text(encoding="utf-8")


def test_the_javascript_is_as_it_should_be(house):
    assert checked(house) == (0, "")


@pytest.mark.parametrize(
    ("name", "slip", "said"),
    [
        pytest.param(
            "docs/assets/job.js", "export const slip = job.raedings;", "TS2551", id="a misspelt part of the job"
        ),
        pytest.param(
            "docs/assets/desk.js", "document.querySelector('p').remove();", "TS2531", id="what may not be there"
        ),
        pytest.param("docs/assets/share.js", "ask({ name: 'fits.bore' });", "TS2741", id="nothing is wanted of Python"),
        pytest.param(
            "scripts/service_worker.js", "adopt(EDITION.pythn[0]);", "TS2551", id="a misspelt part of the edition"
        ),
        pytest.param("docs/assets/steps.js", "const slip = 1;", "no-unused-vars", id="a variable that nothing uses"),
        pytest.param(
            "scripts/snapshot.mjs", "var slip = 1; if (slip == 2) slip;", "eqeqeq", id="an equality that is none"
        ),
    ],
)
def test_a_slip_in_javascript_stops_the_check(house, name, slip, said):
    path = house / name
    whole = path.read_text(encoding="utf-8")
    path.write_text(f"{whole}\n{slip}\n", encoding="utf-8")
    try:
        status, words = checked(house)
    finally:
        path.write_text(whole, encoding="utf-8")
    assert status
    assert said in words


def test_what_is_left_out_of_the_served_scripts_is_comments_and_nothing_else(tmp_path):
    """TypeScript, told to remove comments, makes the same of the scripts as they stand and as they are served.

    Behind ``early.js`` the build puts the letters, in one line.
    """
    made = []
    scripts = sorted((ROOT / "docs/assets").glob("*.js"))
    for name, text in (("whole", Path.read_bytes), ("served", served)):
        folder = tmp_path / name
        folder.mkdir()
        for path in scripts:
            lines = text(path).splitlines(keepends=True)
            has_letters = name == "served" and path.name == "early.js"
            assert has_letters == lines[-1].startswith(b"document.fonts.add(")
            (folder / path.name).write_bytes(b"".join(lines[:-1] if has_letters else lines))
        compiler = [ROOT / "node_modules/.bin/tsc", "--ignoreConfig", "--allowJs", "--noCheck", "--removeComments"]
        options = ["--target", "es2022", "--module", "esnext", "--moduleResolution", "bundler", "--outDir", "out"]
        subprocess.run([*compiler, *options, *(path.name for path in scripts)], cwd=folder, check=True)
        made.append({path.name: path.read_text(encoding="utf-8") for path in (folder / "out").iterdir()})
    assert len(made[0]) == len(scripts)
    assert made[0] == made[1]
    ours = [path for path in scripts if path.name != "early.js"]
    assert sum(len(served(path)) for path in ours) < 0.9 * sum(path.stat().st_size for path in ours)
