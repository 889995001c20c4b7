mod render;
use render::{draw, sets};
#[test]
fn dump() {
    let seed: u64 = std::env::var("SEED").unwrap().parse().unwrap();
    let shot = sets::with_contrast(seed, (2400, 1800));
    let shown = draw(&shot);
    let p = &shown.photograph.picture;
    let mut im = image::RgbImage::new(2400, 1800);
    for (x, y, px) in im.enumerate_pixels_mut() {
        let l = p.light(photo::Pixel::new(x as f64, y as f64));
        *px = image::Rgb(l.map(|v| (v.powf(1.0 / 2.2) * 255.0) as u8));
    }
    let ph = std::slice::from_ref(&shown.photograph);
    let looked = photo::look(ph, &shown.measured, &|_| true).unwrap();
    eprintln!("left {} focal {} tapes {:?}", looked.placed.left_over, looked.placed.focal_off, looked.placed.tapes_off);
    let drawn = looked.propose(ph, None, &|_| true).unwrap();
    for l in &drawn {
        eprintln!("loop {} ", l.len());
        for p in l {
            let q = looked.pixel(0, *p);
            for d in -2i32..=2 { for e in -2i32..=2 {
            let (x, y) = ((q.x as i32 + d) as u32, (q.y as i32 + e) as u32);
            if x < 2400 && y < 1800 { im.put_pixel(x, y, image::Rgb([0, 255, 0])); } } }
        }
    }
    im.save("/tmp/dump.png").unwrap();
    if let Err(e) = looked.outline(ph, &drawn, &|_| true) { eprintln!("{e:?}"); }
}
