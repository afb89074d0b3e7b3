//! `trug pack trial`: how the key does on specimens drawn from a pack, seen by people who err.

use std::fmt::Write as _;
use std::io::{IsTerminal, Write as _};
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use trug::key::trial::{Observer, Report, Settings, Suspicion, run as trial};
use trug::pack::Pack;

use crate::Done;
use crate::answer::{Answer, Refusal};

#[derive(Debug, Args)]
pub struct Command {
    /// How many specimens; the taxa take turns.
    #[arg(long, default_value_t = 96_000)]
    specimens: u64,
    /// The chance that an answer is really wrong.
    #[arg(long, default_value_t = 0.08, value_parser = share)]
    error: f64,
    /// Share of taxa that the key has never heard of.
    #[arg(long, default_value_t = 0.0, value_parser = share)]
    unseen: f64,
    /// Share of cells that the key has wrong.
    #[arg(long, default_value_t = 0.0, value_parser = share)]
    wrong_cells: f64,
    /// How errors are spread.
    #[arg(long, default_value = "uniform")]
    observer: ObserverName,
    /// The name that observers start from.
    #[arg(long, default_value = "none")]
    suspect: SuspicionName,
    /// Draws the deadly taxa alone.
    #[arg(long)]
    only: Option<Only>,
    /// Where the random numbers start.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// A pack's folder [default: the one that is built in].
    #[arg(long, value_name = "DIR")]
    pub pack: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum ObserverName {
    Uniform,
    Uneven,
    Wishful,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum SuspicionName {
    None,
    Right,
    Wishful,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Only {
    Deadly,
}

fn share(text: &str) -> Result<f64, String> {
    let share = text.parse::<f64>().ok().filter(|share| (0.0..=1.0).contains(share));
    share.ok_or_else(|| "write a share from 0 to 1".to_owned())
}

pub fn run(command: &Command, pack: &Pack) -> Done {
    if command.specimens == 0 {
        return Err(Refusal::new("field", "specimens: give 1 or more"));
    }
    let settings = Settings {
        specimens: command.specimens,
        error: command.error,
        observer: match command.observer {
            ObserverName::Uniform => Observer::Uniform,
            ObserverName::Uneven => Observer::Uneven,
            ObserverName::Wishful => Observer::Wishful,
        },
        suspicion: match command.suspect {
            SuspicionName::None => Suspicion::None,
            SuspicionName::Right => Suspicion::Right,
            SuspicionName::Wishful => Suspicion::Wishful,
        },
        unseen: command.unseen,
        wrong_cells: command.wrong_cells,
        only_deadly: command.only.is_some(),
        seed: command.seed,
        ..Settings::default()
    };
    let shown = std::io::stderr().is_terminal();
    let progress = |done: u64| {
        if shown {
            let _ = write!(std::io::stderr(), "\r\x1b[K{done} of {}", command.specimens);
        }
    };
    let report = trial(pack, &settings, &progress);
    Ok(Answer::new(words(&report), &report))
}

fn words(report: &Report) -> String {
    let [low, high] = report.interval;
    let mut text = format!(
        "{} specimens, {:.1} questions each: {} named rightly, {} wrongly, {} not settled.\n\
         Questions until a name led: {:.1}; of those named rightly {:.1}, and {:.1} until they were.\n\
         Of the {} foods that the key may name, {:.0} % of the specimens were settled.\n\
         Dangerous ones named as food: {} of {}, {:.1} per 100,000 (95 %: {low:.1} to {high:.1}).\n",
        report.specimens,
        report.questions_mean,
        report.right,
        report.wrong,
        report.unsettled,
        report.questions_mean_told,
        report.questions_mean_told_settled,
        report.questions_mean_settled,
        report.foods,
        report.food_settled * 100.0,
        report.danger_as_food,
        report.dangerous,
        report.danger_as_food_per_100k,
    );
    if let Some(worst) = &report.worst_deadly {
        let _ = writeln!(text, "Worst deadly one: {}, {:.1} per 100,000.", worst.taxon, worst.per_100k);
    }
    for pair in &report.worst_pairs {
        let _ = writeln!(text, "  {} taken for {}: {}", pair.taxon, pair.other, pair.count);
    }
    text
}
