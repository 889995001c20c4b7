//! What each kind of piece looks like when it is done, with its measures lettered in the order in which
//! they are taken: one file for each kind.

mod bolster;
mod boxed_cushion;
mod buttoned_back;
mod channelled_back;
mod curved_back;
mod cut_pieces;
mod headboard;
mod knife_edge;
mod measured;
mod ottoman;
mod outline;
mod pad;
mod panel;
mod shaped_cushion;
mod skirt;
mod slip_seat;
mod sloped_cushion;
mod tapered_bolster;
mod wall_grid;
mod waterfall_cushion;
mod wedge_cushion;
mod welt_runs;

use crate::drawing::Drawing;
use crate::solid::{Arrow, Place, Scene, Solid};
use geometry::{Length, Path, Point};
use trade::kinds::Kind;
use trade::kinds::table::Key;
use trade::working::Style;

/// The piece with its measures lettered.
pub fn draw(
    kind: &Kind,
    thickness: (Length, Length),
    style: &Style,
    (width, height): (f64, f64),
) -> Option<Drawing> {
    scene(kind, thickness, style).draw(width, height)
}

/// The piece alone.
pub fn bare(
    kind: &Kind,
    thickness: (Length, Length),
    style: &Style,
    (width, height): (f64, f64),
) -> Option<Drawing> {
    scene(kind, thickness, style).bare().draw(width, height)
}

/// The piece and where its measures lie over it, for a screen.
pub fn apart(
    kind: &Kind,
    thickness: (Length, Length),
    style: &Style,
    (width, height): (f64, f64),
) -> Option<(Drawing, Vec<Arrow>)> {
    scene(kind, thickness, style).apart(width, height)
}

fn scene(kind: &Kind, (foam, board): (Length, Length), style: &Style) -> Scene {
    let mut figure = Figure {
        scene: Scene::default(),
        letters: kind.letters(),
        style: *style,
        foam: foam.mm(),
        board: board.mm(),
    };
    match kind {
        Kind::Panel(kind) => panel::draw(&mut figure, kind),
        Kind::Pad(kind) => pad::draw(&mut figure, kind),
        Kind::SlipSeat(kind) => slip_seat::draw(&mut figure, kind),
        Kind::BoxedCushion(kind) => boxed_cushion::draw(&mut figure, kind),
        Kind::KnifeEdge(kind) => knife_edge::draw(&mut figure, kind),
        Kind::Bolster(kind) => bolster::draw(&mut figure, kind),
        Kind::ChannelledBack(kind) => channelled_back::draw(&mut figure, kind),
        Kind::ShapedCushion(kind) => shaped_cushion::draw(&mut figure, kind),
        Kind::WedgeCushion(kind) => wedge_cushion::draw(&mut figure, kind),
        Kind::SlopedCushion(kind) => sloped_cushion::draw(&mut figure, kind),
        Kind::WaterfallCushion(kind) => waterfall_cushion::draw(&mut figure, kind),
        Kind::TaperedBolster(kind) => tapered_bolster::draw(&mut figure, kind),
        Kind::Ottoman(kind) => ottoman::draw(&mut figure, kind),
        Kind::CurvedBack(kind) => curved_back::draw(&mut figure, kind),
        Kind::Headboard(kind) => headboard::draw(&mut figure, kind),
        Kind::ButtonedBack(kind) => buttoned_back::draw(&mut figure, kind),
        Kind::Skirt(kind) => skirt::draw(&mut figure, kind),
        Kind::CutPieces(kind) => cut_pieces::draw(&mut figure, kind),
        Kind::WeltRuns(kind) => welt_runs::draw(&mut figure, kind),
        Kind::WallGrid(kind) => wall_grid::draw(&mut figure, kind),
        Kind::Measured(kind) => measured::draw(&mut figure, kind),
    }
    figure.scene
}

/// A piece being drawn.
struct Figure {
    scene: Scene,
    letters: Vec<(char, &'static Key)>,
    style: Style,
    foam: f64,
    board: f64,
}

fn points(path: &Path) -> Vec<Point> {
    path.flatten().points().iter().map(|s| s.point()).collect()
}

fn circle(diameter: f64) -> Vec<Point> {
    points(&Path::circle(Length::from_mm(diameter)))
}

impl Figure {
    /// Foam and board together, and never too thin to be seen.
    fn thick(&self) -> f64 {
        (self.foam + self.board).max(10.0)
    }

    fn add(&mut self, solid: Solid) {
        self.scene.add(solid);
    }

    /// A measure by its key, with its letter.
    fn measure(&mut self, key: &str, from: Place, to: Place, off: f64) {
        let letter = self.letters.iter().find(|(_, k)| k.name == key).map(|(letter, _)| *letter);
        debug_assert!(letter.is_some(), "`{key}` is drawn and not measured");
        if let Some(letter) = letter {
            self.scene.measure((letter.to_string(), key.to_string()), from, to, off);
        }
    }

    /// One of a list of measures by its place in it, from 0; it is numbered from 1.
    fn one_of(&mut self, key: &str, place: usize, from: Place, to: Place, off: f64) {
        let label = (place + 1).to_string();
        self.scene.measure((label, format!("{key}.{place}")), from, to, off);
    }

    /// One row of a table of measures by its place in it, from 0, with the table's letter.
    fn row_of(&mut self, key: &str, place: usize, from: Place, to: Place, off: f64) {
        let letter = self.letters.iter().find(|(_, k)| k.name == key).map(|(letter, _)| *letter);
        if let Some(letter) = letter {
            self.scene.measure((letter.to_string(), format!("{key}.{place}")), from, to, off);
        }
    }

    /// Two lines over a crowned top.
    fn crown(&mut self, (w, d): (f64, f64), crown: f64) -> Vec<Vec<Place>> {
        let thick = self.thick();
        if crown <= 0.0 {
            return Vec::new();
        }
        self.measure("crown", [w / 2.0, d / 2.0, thick], [w / 2.0, d / 2.0, thick + crown], 5.0);
        [false, true]
            .map(|along| {
                (0..=12)
                    .map(|i| {
                        let t = f64::from(i) / 12.0;
                        let z = thick + crown * 4.0 * t * (1.0 - t);
                        if along { [w / 2.0, d * t, z] } else { [w * t, d / 2.0, z] }
                    })
                    .collect()
            })
            .to_vec()
    }
}
