//! `gridsetter grade`: how hard a puzzle is, counted.

use super::json;
use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::tally::Tally;
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::words::counted;
use crate::ladder::Ladder;
use crate::study::{Grade, Grader, Start, Unready};
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write as _;

const EXAMPLES: &str = "\
Examples:
  gridsetter grade volume.gset                  level, patterns and effort of each puzzle
  gridsetter grade --format json books/         for programs

The [ladder] of a gridsetter.toml reorders the patterns, leaves some out and sets the levels.

Every puzzle with one solution has a level by a ladder with trial. Where too much would have to be
tried to tell every step, the walk is cut short: then `finished` is false.

Exit code: 0 each puzzle has a level, 1 not so, 2 something could not be read.";

/// Grade puzzles: level, patterns, effort
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// How the grade is written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

/// How the grade is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Format {
    /// For people
    Human,
    /// For programs: one JSON object a line
    Json,
}

#[derive(Serialize)]
struct GradeLine<'a> {
    id: Option<&'a str>,
    size: Option<u8>,
    level: Option<u8>,
    finished: bool,
    patterns: Option<BTreeMap<&'static str, usize>>,
    hardest: Option<&'static str>,
    steps: Option<usize>,
    needs: Option<Vec<&'static str>>,
    effort: Option<EffortObject>,
    scanning: Option<ScanningObject>,
    solutions: Option<u64>,
}

#[derive(Serialize)]
struct EffortObject {
    looks: usize,
    held: usize,
    openings: OpeningsObject,
}

#[derive(Serialize)]
struct OpeningsObject {
    mean: f64,
    least: usize,
}

#[derive(Serialize)]
struct ScanningObject {
    finished: bool,
    level: Option<u8>,
    held: usize,
    looks: usize,
    ways: BTreeMap<&'static str, usize>,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, projects: &mut Projects, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut tally = Tally::default();
    let look = |met: &Met, telling: &mut Telling| {
        if met.puzzle.lesson {
            return None;
        }
        let grade =
            Start::of(met.puzzle).map(|start| Grader::of(&start.layout, met.ladder).grade(&start.givens));
        if let Err(why) = &grade {
            telling.remark(format!("{}: no grade: {why}", met.heading()));
        }
        match (arguments.format, &grade) {
            (Format::Json, _) => telling.print(as_json(met, &grade)),
            (Format::Human, Ok(grade)) => {
                telling.print(format!("{}: {}\n", met.heading(), as_text(grade, met.ladder)));
            }
            (Format::Human, Err(_)) => {}
        }
        Some(grade.is_ok_and(|grade| grade.level.is_some()))
    };
    arguments.puzzles.each(&[], projects, terminal, look, |graded, terminal| {
        if let Some(graded) = graded {
            tally.take(graded, terminal);
        }
        Ok(())
    })?;
    terminal.remark(&format!("{}: {} graded", counted(tally.puzzles, "puzzle"), tally.finished));
    Ok(())
}

fn as_text(grade: &Grade, ladder: &Ladder) -> String {
    let mut text = match (grade.level, grade.hardest) {
        (Some(level), Some(hardest)) => {
            let name = ladder.level_name(level).map_or_else(String::new, |name| format!(" ({name})"));
            format!("level {level}{name}, hardest {hardest}")
        }
        _ => "no level: the ladder does not finish it".to_owned(),
    };
    let patterns: Vec<String> =
        grade.patterns.iter().map(|(name, count)| format!("{name} {count}")).collect();
    let _ = write!(text, "\n  patterns  {}", patterns.join(", "));
    if !grade.needs.is_empty() {
        let _ = write!(text, "\n  needs     {}", grade.needs.join(", "));
    }
    if !grade.finished && grade.level.is_some() {
        let stay = if grade.open == 1 { "stays" } else { "stay" };
        let open = counted(grade.open, "cell");
        let _ = write!(text, "\n  cut short {open} {stay} open, since too much would have to be tried");
    }
    let effort = &grade.effort;
    let _ = write!(
        text,
        "\n  effort    {}, {} looks; ways to go on: {:.1} on average, at least {}",
        counted(grade.steps, "step"),
        effort.looks,
        effort.openings.mean,
        effort.openings.least
    );
    let scanning = &grade.scanning;
    let ways: Vec<String> = scanning.ways.iter().map(|(name, count)| format!("{name} {count}")).collect();
    let how_far = match scanning.level {
        Some(level) => format!(
            "level {level}, {} looks, at most {} held",
            scanning.looks,
            counted(scanning.held, "fact")
        ),
        None => "gets stuck".to_owned(),
    };
    let _ = write!(text, "\n  scanning  {how_far}; {}", ways.join(", "));
    text
}

fn as_json(met: &Met, grade: &Result<Grade, Unready>) -> String {
    let grade = grade.as_ref();
    let solutions = match grade {
        Ok(_) => Some(1),
        Err(Unready::NoSolution | Unready::Clash) => Some(0),
        Err(Unready::Several { count, .. }) => Some(*count),
        Err(_) => None,
    };
    let grade = grade.ok();
    json::line(&GradeLine {
        id: met.puzzle.id.as_ref().map(|id| id.text.as_str()),
        size: met.puzzle.layout.as_ref().map(|layout| layout.size().side()),
        level: grade.and_then(|grade| grade.level),
        finished: grade.is_some_and(|grade| grade.finished),
        patterns: grade.map(|grade| grade.patterns.iter().copied().collect()),
        hardest: grade.and_then(|grade| grade.hardest),
        steps: grade.map(|grade| grade.steps),
        needs: grade.map(|grade| grade.needs.clone()),
        effort: grade.map(|grade| EffortObject {
            looks: grade.effort.looks,
            held: grade.effort.held,
            openings: OpeningsObject { mean: grade.effort.openings.mean, least: grade.effort.openings.least },
        }),
        scanning: grade.map(|grade| ScanningObject {
            finished: grade.scanning.finished,
            level: grade.scanning.level,
            held: grade.scanning.held,
            looks: grade.scanning.looks,
            ways: grade.scanning.ways.iter().copied().collect(),
        }),
        solutions,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Effort, Openings, ScanningGrade};

    #[test]
    fn a_walk_that_is_cut_short_has_a_level_and_is_told_as_far_as_it_goes() {
        let mut grade = Grade {
            finished: false,
            level: Some(7),
            patterns: vec![("naked single", 3), ("trial", 2)],
            hardest: Some("trial"),
            steps: 5,
            open: 40,
            needs: vec!["trial"],
            effort: Effort { looks: 90, held: 0, openings: Openings { mean: 1.5, least: 1 } },
            scanning: ScanningGrade {
                finished: false,
                level: None,
                held: 0,
                open: 42,
                looks: 3,
                ways: vec![("crossing", 1)],
            },
        };
        let cut = "\
level 7, hardest trial
  patterns  naked single 3, trial 2
  needs     trial
  cut short 40 cells stay open, since too much would have to be tried
  effort    5 steps, 90 looks; ways to go on: 1.5 on average, at least 1
  scanning  gets stuck; crossing 1";
        assert_eq!(as_text(&grade, &Ladder::default()), cut);
        (grade.level, grade.hardest, grade.needs) = (None, None, Vec::new());
        let stuck = as_text(&grade, &Ladder::default());
        assert!(
            stuck.starts_with("no level: the ladder does not finish it\n") && !stuck.contains("cut short")
        );
    }
}
