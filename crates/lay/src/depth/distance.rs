//! Distances on a grid to the nearest cell outside.

/// For each cell the distance of its middle to the nearest cell that is not inside, all beyond the edges
/// being outside, in cells.
///
/// Source: Felzenszwalb and Huttenlocher, "Distance transforms of sampled functions", Theory of Computing 8
/// (2012): lower envelope of parabolas, one axis after the other.
pub(super) fn distances(inside: &[bool], rows: usize, columns: usize) -> Vec<f64> {
    let far = ((rows + columns + 4) * (rows + columns + 4)) as f64;
    let mut all: Vec<f64> = inside.iter().map(|&i| if i { far } else { 0.0 }).collect();
    let mut line = vec![0.0; rows.max(columns) + 2];
    let mut scratch = Envelope::default();
    for i in 0..columns {
        let n = rows + 2;
        (line[0], line[n - 1]) = (0.0, 0.0);
        line[1..=rows].copy_from_slice(&all[i * rows..(i + 1) * rows]);
        scratch.over(&mut line[..n]);
        all[i * rows..(i + 1) * rows].copy_from_slice(&line[1..=rows]);
    }
    for j in 0..rows {
        let n = columns + 2;
        (line[0], line[n - 1]) = (0.0, 0.0);
        for i in 0..columns {
            line[i + 1] = all[i * rows + j];
        }
        scratch.over(&mut line[..n]);
        for i in 0..columns {
            all[i * rows + j] = line[i + 1];
        }
    }
    all.into_iter().map(f64::sqrt).collect()
}

/// The lower envelope of parabolas over a line.
#[derive(Default)]
struct Envelope {
    tops: Vec<usize>,
    from: Vec<f64>,
    values: Vec<f64>,
}

impl Envelope {
    /// Squared distances along a line, from those across it.
    fn over(&mut self, line: &mut [f64]) {
        let n = line.len();
        self.tops.clear();
        self.from.clear();
        for q in 0..n {
            loop {
                let Some(&p) = self.tops.last() else {
                    self.tops.push(q);
                    self.from.push(f64::NEG_INFINITY);
                    break;
                };
                let (a, b) = (p as f64, q as f64);
                let s = ((line[q] + b * b) - (line[p] + a * a)) / (2.0 * (b - a));
                if self.from.last().is_some_and(|&from| s <= from) {
                    self.tops.pop();
                    self.from.pop();
                    continue;
                }
                self.tops.push(q);
                self.from.push(s);
                break;
            }
        }
        self.values.clear();
        let mut k = 0;
        for q in 0..n {
            while k + 1 < self.tops.len() && self.from[k + 1] < q as f64 {
                k += 1;
            }
            let by = q as f64 - self.tops[k] as f64;
            self.values.push(by * by + line[self.tops[k]]);
        }
        line.copy_from_slice(&self.values);
    }
}
