"""Arguments in, exit code out: 0 done, 1 the records have problems, 2 wrong use, 3 the machine is in the way."""

from __future__ import annotations

import json
import sys
import textwrap
from collections.abc import Callable, Iterable
from dataclasses import asdict
from pathlib import Path
from typing import NoReturn

import click

from bookgen import __version__
from bookgen.desk.start import NotEmptyError, Start, lay_out
from bookgen.model.problem import Finding, Problem, Severity

DONE, PROBLEMS, WRONG_USE, MACHINE = 0, 1, 2, 3
# How sure a figure is, as a line of print has it.
SURE = {"memory": "from memory: look it up", "paraphrase": "retold: look it up"}
WIDTH = 100


def main() -> None:
    """Run a command and leave with its exit code; an interruption or the machine's refusal is one line."""
    try:
        commands(prog_name="bookgen", standalone_mode=False)
    except click.exceptions.Exit as exit_:
        sys.exit(exit_.exit_code)
    except click.ClickException as error:
        error.show()
        sys.exit(WRONG_USE)
    except (click.Abort, KeyboardInterrupt):
        click.echo(
            "\nstopped; what stands is whole, and the last book is as it was. "
            "Run the same command again when you are ready.",
            err=True,
        )
        sys.exit(MACHINE)
    except OSError as error:
        click.echo(f"the machine is in the way: {_os_words(error)}", err=True)
        sys.exit(MACHINE)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": WIDTH})
@click.version_option(__version__, message="bookgen %(version)s")
def commands() -> None:
    """Work out how obstacles are hidden, and bind the book that says what is behind each surface.

    Start with: bookgen start DIR --quick, then bookgen bind DIR.
    """


def _there(
    _context: click.Context, _option: click.Parameter, value: Path | tuple[Path, ...]
) -> Path | tuple[Path, ...]:
    """Refuse a project folder that is not there."""
    for folder in value if isinstance(value, tuple) else (value,):
        if not folder.is_dir():
            raise click.BadParameter(f"{folder} is no folder; look at the name, or begin one: bookgen start {folder}")
    return value


def _there_if_named(context: click.Context, option: click.Parameter, value: Path | None) -> Path | None:
    """Refuse a project folder that is named and not there."""
    if value is not None:
        _there(context, option, value)
    return value


project_argument = click.argument("project", type=click.Path(path_type=Path), callback=_there)


@commands.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--quick", is_flag=True, help="Ask nothing; lay out the folder with example records.")
def start(folder: Path, quick: bool) -> None:
    """Lay out a project folder with commented records that bind as they are."""
    answers = Start() if quick else _ask()
    try:
        written = lay_out(folder, answers)
    except NotEmptyError as error:
        raise click.UsageError(str(error)) from error
    for path in written:
        click.echo(f"  {path}")
    click.echo(f"Started. Next: change {folder / 'project.yaml'}, then run: bookgen bind {folder}")


@commands.command()
@project_argument
@click.option("--json", "as_json", is_flag=True, help="Print problems and findings for programs.")
@click.option("--strict", is_flag=True, help="Exit with 1 when a check says stop.")
def check(project: Path, as_json: bool, strict: bool) -> None:
    """Read, solve and check a project; print every problem and finding."""
    from bookgen.check import check as check_project

    checked = check_project(project)
    if as_json:
        data = {"problems": [_plain(p) for p in checked.problems], "findings": [_plain(f) for f in checked.findings]}
        click.echo(json.dumps(data, indent=2, ensure_ascii=False))
    else:
        _print_problems(checked.problems, project)
        _print_findings(checked.findings)
        if not checked.problems:
            click.echo(_tally(checked.findings))
    stops = any(finding.severity is Severity.STOP for finding in checked.findings)
    sys.exit(PROBLEMS if checked.problems or (strict and stops) else DONE)


@commands.command()
@click.argument(
    "projects", metavar="PROJECT...", nargs=-1, required=True, type=click.Path(path_type=Path), callback=_there
)
@click.option("--edition", type=click.Choice(["owner", "sample", "trade"]), default="owner", show_default=True)
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder of the book; site_out/<project>/<edition> if left out."
)
@click.option("--single-file", is_flag=True, help="Put the pages into one HTML file as well, to send by mail.")
@click.option("--prices", is_flag=True, help="Tell in a trade edition what the material costs, from prices.yaml.")
def bind(projects: tuple[Path, ...], edition: str, out: Path | None, single_file: bool, prices: bool) -> None:
    """Make the book of one or more projects: a static site and a print book."""
    if prices and edition != "trade":
        raise click.UsageError("--prices goes with --edition trade: prices are never told to anybody else")
    from bookgen.bind import bind as bind_project
    from bookgen.model.book import Edition
    from bookgen.render.publish import TargetRefusedError
    from bookgen.render.themes import ThemeError

    if out is not None and len(projects) > 1:
        raise click.UsageError("--out names one folder; bind one project at a time, or leave it out")
    failed = []
    for project in projects:
        target = out or Path("site_out") / project.resolve().name / edition
        try:
            bound = bind_project(project, Edition(edition), target, _progress(), single_file=single_file, prices=prices)
        except (TargetRefusedError, ThemeError) as error:
            raise click.UsageError(str(error)) from error
        if bound.target is None:
            _print_problems(bound.checked.problems, project)
            failed.append(project)
            continue
        _print_findings(f for f in bound.checked.findings if f.severity is Severity.STOP)
        click.echo(f"The book is at {bound.target / 'index.html'} and {bound.target / 'book.pdf'}")
    if failed and len(projects) > 1:
        click.echo(f"not bound: {', '.join(map(str, failed))}", err=True)
    sys.exit(PROBLEMS if failed else DONE)


@commands.command()
@project_argument
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Port to show it on; a free one if left out.")
def proof(project: Path, port: int) -> None:
    """Show a live copy of the book on this machine, bound again at every save; match points on photos there."""
    from threading import Event

    from bookgen.proof import Told, prove

    def say(told: Told) -> None:
        _print_problems(told.problems, project)
        click.echo(f"{told.address} shows {'the last good book' if told.problems else 'the book'}; Ctrl-C ends it.")

    try:
        prove(project, port, say, Event())
    except KeyboardInterrupt:
        click.echo("The proof is closed; nothing of it is kept.")
    sys.exit(DONE)


@commands.command()
@click.argument(
    "projects", metavar="PROJECT...", nargs=-1, required=True, type=click.Path(path_type=Path), callback=_there
)
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder of the shelf.")
def shelf(projects: tuple[Path, ...], out: Path) -> None:
    """Put the sample editions of several projects on one page, for prospects."""
    from bookgen.render.publish import TargetRefusedError
    from bookgen.render.themes import ThemeError
    from bookgen.shelf import fill_shelf

    try:
        shelved = fill_shelf(projects, out, _progress())
    except (TargetRefusedError, ThemeError) as error:
        raise click.UsageError(str(error)) from error
    for project, checked in shelved.refused:
        _print_problems(checked.problems, project)
    if shelved.refused:
        click.echo(f"not on the shelf: {', '.join(str(project) for project, _ in shelved.refused)}", err=True)
    if shelved.target:
        click.echo(f"The shelf is at {shelved.target / 'index.html'}")
    sys.exit(PROBLEMS if shelved.refused else DONE)


@commands.command()
@click.argument("project", type=click.Path(path_type=Path), callback=_there_if_named, required=False)
@click.option("--out", type=click.Path(path_type=Path), help="Folder of the parcel.")
@click.option("--since", type=click.Path(path_type=Path), help="The last parcel; what stands at --out if left out.")
@click.option(
    "--originals", is_flag=True, help="Put the photos in as they came off the phone, place and time included."
)
@click.option("--verify", type=click.Path(path_type=Path), help="Say what has changed in a parcel since it was made.")
def handover(project: Path | None, out: Path | None, since: Path | None, originals: bool, verify: Path | None) -> None:
    """Make the owner's parcel: site, print book, tags, calendar and records in a checksummed folder."""
    if verify is not None:
        if project or out or since or originals:
            raise click.UsageError("--verify stands alone: bookgen handover --verify DIR")
        _verify(verify)
    if project is None or out is None:
        raise click.UsageError("name the project and the folder of the parcel: bookgen handover PROJECT --out DIR")
    _hand_over(project, out, since, originals=originals)


def _verify(folder: Path) -> NoReturn:
    from bookgen.render.parcel import NoParcelError, faults

    try:
        found = faults(folder)
    except NoParcelError as error:
        raise click.UsageError(str(error)) from error
    for line in found:
        click.echo(line)
    click.echo("Not as it was handed over: see above." if found else f"{folder} is as it was handed over.")
    sys.exit(PROBLEMS if found else DONE)


def _hand_over(project: Path, out: Path, since: Path | None, *, originals: bool) -> NoReturn:
    from bookgen.handover import RevisionError, hand_over
    from bookgen.render.parcel import NoParcelError
    from bookgen.render.publish import TargetRefusedError
    from bookgen.render.themes import ThemeError

    try:
        done = hand_over(project, out, since, originals=originals, progress=_progress())
    except (NoParcelError, RevisionError, TargetRefusedError, ThemeError) as error:
        raise click.UsageError(str(error)) from error
    if done.target is None:
        _print_problems(done.checked.problems, project)
        _print_findings(done.stops)
        if done.stops:
            click.echo("Nothing was handed over: what says stop needs an answer first (bookgen explain answered).")
        sys.exit(PROBLEMS)
    if done.changes:
        click.echo(done.changes.partition("\n--- ")[0].strip())
    if originals:
        click.echo("The photos went in as they came off the phone: they tell where and when each was taken.")
    click.echo(f"The parcel is at {done.target}; check it in any year: bookgen handover --verify {done.target}")
    sys.exit(DONE)


@commands.command()
@project_argument
@click.argument("photos", metavar="PHOTOS...", nargs=-1, required=True, type=click.Path(exists=True, path_type=Path))
def intake(project: Path, photos: tuple[Path, ...]) -> None:
    """Copy phone photos into a project, oldest first, with caption stubs to fill in; nothing is written over."""
    from bookgen.desk.intake import intake as take_in
    from bookgen.desk.intake import report_lines
    from bookgen.desk.intake_guess import Hints, hints_of
    from bookgen.read import read
    from bookgen.read.photos import probe

    read_project, _ = read(project)  # problems there are `check`'s to tell; guesses then do without the records
    hints = hints_of(read_project) if read_project else Hints()
    report = _progress()
    taken = take_in(project, photos, probe, hints, lambda done, of: report("photos", done, of))
    click.echo("\n".join(report_lines(taken)))


@commands.command()
@click.argument("name", nargs=-1)
def explain(name: tuple[str, ...]) -> None:
    """Say what a problem code, check, treatment or record field means; without a name, list them all."""
    from bookgen.explain import explain as explain_name
    from bookgen.explain import near, topics

    wanted = " ".join(name)
    if not wanted:
        _list_topics((topic.sort, topic.name) for topic in topics())
        return
    found = explain_name(wanted)
    if not found:
        close = ", ".join(near(wanted))
        hint = f"did you mean {close}?" if close else "run bookgen explain for the list"
        raise click.UsageError(f"{wanted} is not known; {hint}")
    click.echo("\n\n".join(f"{topic.name} ({topic.sort})\n\n{_wrapped(topic.text)}" for topic in found))


@commands.command()
@project_argument
@click.option("--out", type=click.Path(path_type=Path), help="Write a .xlsx or .csv file instead of printing.")
def takeoff(project: Path, out: Path | None) -> None:
    """Work out what to buy, how to cut it and where each piece goes; with prices.yaml, what it costs."""
    if out is not None and out.suffix not in (".csv", ".xlsx"):
        raise click.UsageError(f"{out.name}: only .xlsx and .csv can be written; name it so")
    from bookgen.render.takeoff import as_csv, as_text
    from bookgen.takeoff import take_off

    taken = take_off(project)
    if taken.solved is None:
        _print_problems(taken.checked.problems, project)
        sys.exit(PROBLEMS)
    if out is None:
        click.echo(as_text(taken.listings))
        return
    if out.suffix == ".csv":
        out.write_text(as_csv(taken.solved), encoding="utf-8")
    else:
        from bookgen.render.workbook import write_workbook

        write_workbook(taken.solved, taken.listings, out)
    click.echo(f"The takeoff is at {out}")


def _ask() -> Start:
    """Ask the few questions of `start`, each with its default."""
    given = Start()
    click.echo("A few questions; Enter takes what stands in brackets.")
    return Start(
        title=click.prompt("What do you call this job?", default=given.title),
        house=click.prompt("What sort of house is it?", default=given.house),
        built=str(click.prompt("What year was it built?", default=given.built, type=click.IntRange(1500, 2100))),
        owner=click.prompt("Who owns it?", default=given.owner),
        contractor=click.prompt("Who does the work?", default=given.contractor),
    )


def _progress() -> Callable[[str, int, int], None]:
    """Return a reporter: a line that moves on a terminal, a few plain lines elsewhere."""
    if sys.stderr.isatty():
        return _moving
    return _plain_line


def _moving(work: str, done: int, of: int) -> None:
    whole = done >= of
    click.echo(f"\r{work}: {done} of {of} " if of > 1 else f"\r{work} …         ", nl=whole and of > 1, err=True)


def _plain_line(work: str, done: int, of: int) -> None:
    if of <= 1:
        click.echo(f"{work}", err=True)
    elif done == of:
        click.echo(f"{work}: {of} done", err=True)


def _print_problems(problems: Iterable[Problem], project: Path) -> None:
    problems = tuple(problems)
    for problem in problems:
        where = click.style(str(project / str(problem.place)), bold=True)
        subject = f"{problem.field}: {problem.value}" if problem.value else problem.field
        click.echo(f"{where}: {click.style(problem.code, fg='red')}")
        click.echo(
            textwrap.fill(f"{subject} — {problem.rule}.", WIDTH, initial_indent="    ", subsequent_indent="    ")
        )
        click.echo(
            textwrap.fill(
                f"→ {problem.repair}{'' if problem.repair.endswith('?') else '.'}",
                WIDTH,
                initial_indent="    ",
                subsequent_indent="      ",
            )
        )
    if problems:
        count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
        click.echo(f"{count}; nothing was bound. bookgen explain CODE says more about one.")


def _print_findings(findings: Iterable[Finding]) -> None:
    for finding in findings:
        if finding.severity is Severity.WITHIN:
            continue
        click.echo(f"{finding.place}: {finding.severity.value}: {finding.code}: {finding.where}")
        sure = SURE.get(finding.sure, finding.sure)
        measured = f"Measured {finding.measured}; asked {finding.asked}: {finding.source} ({sure})."
        for line in (finding.spot, f"{_sentence(finding.says)}.", measured):
            click.echo(textwrap.fill(line, WIDTH, initial_indent="    ", subsequent_indent="    "))
        hint = f"→ {_sentence(finding.hint)}."
        click.echo(textwrap.fill(hint, WIDTH, initial_indent="    ", subsequent_indent="      "))
        if finding.answered:
            click.echo(textwrap.fill(f"{finding.answered}.", WIDTH, initial_indent="    ", subsequent_indent="    "))


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _tally(findings: tuple[Finding, ...]) -> str:
    counts = {severity: sum(1 for f in findings if f.severity is severity) for severity in Severity}
    return (
        f"The records are in order. {counts[Severity.STOP]} to stop for, {counts[Severity.ASK]} to ask about, "
        f"{counts[Severity.NOTE]} to note, {counts[Severity.WITHIN]} within what is asked. "
        "Check against your local code."
    )


def _plain(value: Problem | Finding) -> dict[str, object]:
    data = asdict(value)
    if isinstance(value, Finding):
        data["severity"] = value.severity.value
        if value.answered:
            data["answered"]["on"] = value.answered.on.isoformat()
    return data


def _list_topics(pairs: Iterable[tuple[str, str]]) -> None:
    sorts: dict[str, list[str]] = {}
    for sort, name in pairs:
        sorts.setdefault(sort, []).append(name)
    for sort, names in sorts.items():
        listed = ", ".join(dict.fromkeys(names))
        click.echo(click.style(sort, bold=True))
        click.echo(textwrap.fill(listed, WIDTH, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False))


def _wrapped(text: str) -> str:
    """Wrap the prose of a topic, paragraph by paragraph; lines that are indented stay lines of their own."""
    paragraphs: list[str] = []
    for line in text.splitlines():
        if line and paragraphs and paragraphs[-1] and not line.startswith(" ") and not paragraphs[-1].startswith(" "):
            paragraphs[-1] += f" {line}"
        else:
            paragraphs.append(line)
    return "\n".join(
        textwrap.fill(p, WIDTH, subsequent_indent="      " if p.startswith(" ") else "", break_on_hyphens=False)
        for p in paragraphs
    )


def _os_words(error: OSError) -> str:
    where = f"{error.filename}: " if error.filename else ""
    return f"{where}{error.strerror or error}"
