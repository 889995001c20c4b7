//! The papers of a job: each for its reader, in a file of its own.

use crate::pdf::{self, Document, Matter, TemplateError};
use crate::{File, view};
use std::collections::BTreeMap;
use trade::hints::Hint;
use trade::plan::Plan;

/// A paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// The customer's: the work, the price, what it assumes; no cost.
    Quote,
    /// The bench's: front sheet, cutting and sheet plans, bench sheets, fitting sheet, tags, glossary.
    Workshop,
    /// A sheet for each supplier.
    Order,
    /// The office's: cost, hours, margin.
    Office,
    /// How every size was worked out.
    Workings,
    /// What goes to the customer with the finished work.
    Care,
    /// Work found necessary later, to be agreed.
    ChangeNote,
    /// What is handed over.
    Delivery,
    /// What was collected, and in which condition.
    Receipt,
}

impl Paper {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Quote,
        Self::Workshop,
        Self::Order,
        Self::Office,
        Self::Workings,
        Self::Care,
        Self::ChangeNote,
        Self::Delivery,
        Self::Receipt,
    ];

    /// What it is asked for by, and the name of its file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quote => "quote",
            Self::Workshop => "workshop",
            Self::Order => "order",
            Self::Office => "office",
            Self::Workings => "workings",
            Self::Care => "care",
            Self::ChangeNote => "change-note",
            Self::Delivery => "delivery-note",
            Self::Receipt => "receipt",
        }
    }

    /// The paper of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|paper| paper.name() == name)
    }

    /// Whether it is written without being asked for.
    pub const fn is_usual(self) -> bool {
        matches!(self, Self::Quote | Self::Workshop | Self::Order | Self::Office | Self::Workings)
    }

    const fn template(self) -> &'static str {
        match self {
            Self::Quote => "quote.typ",
            Self::Workshop => "workshop.typ",
            Self::Order => "order.typ",
            Self::Office => "office.typ",
            Self::Workings => "workings.typ",
            Self::Care => "care.typ",
            Self::ChangeNote => "change.typ",
            Self::Delivery => "delivery.typ",
            Self::Receipt => "receipt.typ",
        }
    }
}

/// What all papers of a plan are set from.
pub struct Papers {
    matter: Matter,
}

impl Papers {
    /// Gathers it.
    pub fn of(plan: &Plan, hints: &[Hint]) -> Self {
        Self { matter: view::view(plan, hints) }
    }

    /// One of them, set.
    ///
    /// # Errors
    /// A template that cannot be set, with its name, line and what is wrong; never for built-in ones.
    pub fn set(
        &self,
        paper: Paper,
        templates: &BTreeMap<String, String>,
    ) -> Result<Document, TemplateError> {
        pdf::set(paper.template(), &self.matter, templates)
    }

    /// The drawings that the papers show, by file name.
    pub const fn drawings(&self) -> &BTreeMap<String, crate::drawing::Drawing> {
        &self.matter.drawings
    }

    /// Papers as files, set side by side.
    ///
    /// # Errors
    /// The first template that cannot be set.
    pub fn files(
        &self,
        wanted: &[Paper],
        templates: &BTreeMap<String, String>,
    ) -> Result<Vec<File>, TemplateError> {
        let write = |paper: Paper| {
            let bytes = self.set(paper, templates)?.pdf()?;
            Ok(File { path: format!("{}.pdf", paper.name()), bytes })
        };
        std::thread::scope(|scope| {
            let set: Vec<_> =
                wanted.iter().map(|&paper| scope.spawn(move || write(paper))).collect();
            let join = |thread: std::thread::ScopedJoinHandle<'_, Result<File, TemplateError>>| {
                let fell = |_| TemplateError { problems: vec!["the type-setter fell over".into()] };
                thread.join().map_err(fell)?
            };
            set.into_iter().map(join).collect()
        })
    }
}
