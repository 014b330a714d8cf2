"""Arguments in, exit code out: 0 done, 1 the records have problems, 2 wrong use, 3 the machine is in the way."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from bookgen import __version__, telling
from bookgen.desk.asking import WrongAnswerError, ask, beforehand
from bookgen.desk.start import LANGUAGES, UNITS, NotEmptyError, Start, lay_out, refuse_full
from bookgen.model.problem import Problem, Severity
from bookgen.telling import DONE, MACHINE, PROBLEMS, WRONG_USE
from bookgen.trade.tongue import ENGLISH

if TYPE_CHECKING:
    from bookgen.bindery import Done, Job


def main() -> None:
    """Run a command and leave with its exit code; the machine's refusal is one line.

    Raises KeyboardInterrupt where it is interrupted.
    """
    try:
        commands(prog_name="bookgen", standalone_mode=False)
    except click.exceptions.Exit as exit_:
        sys.exit(exit_.exit_code)
    except click.ClickException as error:
        error.show()
        sys.exit(WRONG_USE)
    except click.Abort:  # how click tells of an interruption
        raise KeyboardInterrupt from None
    except OSError as error:
        click.echo(f"the machine is in the way: {telling.machine_words(error)}", err=True)
        sys.exit(MACHINE)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": telling.WIDTH})
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
@click.option("--title", help="What you call the job.")
@click.option("--house", help="What sort of house it is.")
@click.option("--built", help="The year it was built.")
@click.option("--owner", help="Who owns it.")
@click.option("--contractor", help="Who does the work.")
@click.option("--language", type=click.Choice(LANGUAGES), help="Language of the book; en if left out.")
@click.option("--units", type=click.Choice(UNITS), help="Units of the book; imperial if left out.")
def start(folder: Path, quick: bool, **told: str | None) -> None:
    """Lay out a project folder with commented records that bind as they are; asks, unless told by the options."""
    given = replace(Start(), **{field: answer for field, answer in told.items() if answer is not None})
    try:
        refuse_full(folder)
        answers = beforehand(given) if quick or given != Start() else ask(_line, click.echo, given)
        written = lay_out(folder, answers)
    except (NotEmptyError, WrongAnswerError) as error:
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
    from bookgen.report import report

    told = report(project)
    if as_json:
        click.echo(telling.as_json(told.plain()))
    else:
        telling.print_problems(told.problems, project, told.language)
        telling.print_findings(told.findings, project, told.language)
        click.echo("".join(f"{line}\n" for line in told.words), nl=False)
        telling.print_notes(told.notes, project, told.language)
        if not told.problems:
            click.echo(telling.tally(told.findings, told.language))
    stops = any(finding.severity is Severity.STOP for finding in told.findings)
    sys.exit(PROBLEMS if told.problems or (strict and stops) else DONE)


@commands.command()
@click.argument(
    "projects", metavar="PROJECT...", nargs=-1, required=True, type=click.Path(path_type=Path), callback=_there
)
@click.option(
    "--edition", "editions", type=click.Choice(["owner", "sample", "trade"]), multiple=True, help="owner if left out."
)
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder of the book; site_out/<project>/<edition> if left out."
)
@click.option("--single-file", is_flag=True, help="Put the pages into one HTML file as well, to send by mail.")
@click.option("--prices", is_flag=True, help="Tell in a trade edition what the material costs, from prices.yaml.")
def bind(
    projects: tuple[Path, ...], editions: tuple[str, ...], out: Path | None, single_file: bool, prices: bool
) -> None:
    """Make the book of one or more projects: a static site and a print book."""
    from bookgen.bindery import Job, bind_all, bind_job

    if out is not None and len(projects) > 1:
        raise click.UsageError("--out names one folder; bind one project at a time, or leave it out")
    if len(editions) > 1:
        raise click.UsageError(
            f"--edition names one edition, and here are {' and '.join(editions)}; bind once for each"
        )
    edition = editions[0] if editions else "owner"
    if prices and edition != "trade":
        raise click.UsageError("--prices goes with --edition trade: prices are never told to anybody else")
    targets = {project: out or Path("site_out") / project.resolve().name / edition for project in projects}
    if len(set(targets.values())) < len(projects):
        raise click.UsageError(
            "two of these projects would be bound into the same folder; bind each by itself, with a folder of its own: "
            "bookgen bind PROJECT --out DIR"
        )
    jobs = [Job(project, edition, target, single_file, prices) for project, target in targets.items()]
    if len(jobs) == 1:
        done = bind_job(jobs[0], telling.progress())
        _tell(jobs[0], done)
        _end(done)
    ends = []
    for job, done in zip(jobs, bind_all(jobs, telling.progress), strict=True):
        _tell(job, done)
        ends.append(done)
        if done.wrong:
            click.echo(f"{job.project}: {done.wrong}", err=True)
    left = [f"{job.project} ({_why_not(done)})" for job, done in zip(jobs, ends, strict=True) if done.code]
    click.echo(f"{len(jobs) - len(left)} of {len(jobs)} books stand.")
    if left:
        click.echo(f"not bound: {'; '.join(left)}", err=True)
    sys.exit(max(done.code for done in ends))


def _tell(job: Job, done: Done) -> None:
    """Print what became of a job."""
    _print_problems(done.problems, job.project, telling.Undone.BINDING)
    telling.print_findings(done.stops, job.project, done.language)
    if done.unchanged:
        click.echo("Nothing has changed since it was bound.")
    if done.code == DONE:
        click.echo(f"The book is at {job.target / 'index.html'} and {job.target / 'book.pdf'}")


def _print_problems(
    problems: Iterable[Problem], project: Path, undone: telling.Undone = telling.Undone.NOTHING
) -> None:
    """Print problems in the language of the project's book."""
    problems = tuple(problems)
    if problems:
        from bookgen.read import book_language

        telling.print_problems(problems, project, book_language(project), undone)


def _end(done: Done) -> NoReturn:
    """Leave with the exit code of the one job there was."""
    if done.code == WRONG_USE:
        raise click.UsageError(done.wrong)
    if done.wrong:
        click.echo(f"the machine is in the way: {done.wrong}", err=True)
    sys.exit(done.code)


def _why_not(done: Done) -> str:
    """Return in a few words why a book was not bound."""
    count = len(done.problems)
    return done.wrong or ("1 problem" if count == 1 else f"{count} problems")


@commands.command()
@project_argument
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Port to show it on; a free one if left out.")
def proof(project: Path, port: int) -> None:
    """Show a live copy of the book on this machine, bound again at every save; match points on photos there."""
    from threading import Event

    from bookgen.proof import Told, prove

    def say(told: Told) -> None:
        if told.printed:
            return
        _print_problems(told.problems, project, telling.Undone.PROOF)
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
        shelved = fill_shelf(projects, out, telling.progress())
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

    try:
        done = hand_over(project, out, since, originals=originals, progress=telling.progress())
    except (NoParcelError, RevisionError, TargetRefusedError) as error:
        raise click.UsageError(str(error)) from error
    if done.target is None:
        _print_problems(done.checked.problems, project, telling.Undone.HANDING_OVER)
        solved = done.checked.solved
        language = solved.project.record.language if solved else ENGLISH
        telling.print_findings(done.stops, project, language)
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
    report = telling.progress()
    taken = take_in(project, photos, probe, hints, lambda done, of: report("photos", done, of))
    click.echo("\n".join(report_lines(taken)))
    sys.exit(PROBLEMS if taken.refused else DONE)


@commands.command()
@click.argument("name", nargs=-1)
@click.option(
    "--language", type=click.Choice(LANGUAGES), default=ENGLISH, help="Language to explain in; en if left out."
)
def explain(name: tuple[str, ...], language: str) -> None:
    """Say what a problem code, check, treatment or record field means; without a name, list them all."""
    from bookgen.explain import explain as explain_name
    from bookgen.explain import near, topics

    wanted = " ".join(name)
    if not wanted:
        telling.list_topics((topic.sort, topic.name) for topic in topics())
        return
    found = explain_name(wanted, language)
    if not found:
        close = ", ".join(near(wanted))
        hint = f"did you mean {close}?" if close else "run bookgen explain for the list"
        raise click.UsageError(f"{wanted} is not known; {hint}")
    click.echo("\n\n".join(f"{topic.name} ({topic.sort})\n\n{telling.wrapped(topic.text)}" for topic in found))


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
        _print_problems(taken.checked.problems, project, telling.Undone.COUNTING)
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


def _line(words: str) -> str:
    """Return the line typed after *words*; "" where only Enter was."""
    return str(click.prompt(words, default="", show_default=False, prompt_suffix=""))
