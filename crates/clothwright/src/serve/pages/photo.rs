//! Photographs: read, made small, written anew; what a camera hides in its file is left behind.

use crate::serve::store::Photo;
use crate::serve::{Answer, App, Trouble, now};
use axum::extract::{Multipart, Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect};
use image::codecs::jpeg::JpegEncoder;
use std::sync::Arc;

/// Longest side kept, pixels.
const LONGEST: u32 = 1600;

/// Pictures are unpacked in turn.
static UNPACKING: tokio::sync::Semaphore = tokio::sync::Semaphore::const_new(1);

pub async fn add(State(app): State<Arc<App>>, Path(id): Path<i64>, mut form: Multipart) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let mut words = String::new();
    let mut piece = String::new();
    let mut name = crate::serve::access::secret().map_err(|e| Trouble::Inside(e.to_string()))?;
    let mut bytes = None;
    let wrong = |e: axum::extract::multipart::MultipartError| Trouble::Input(e.body_text());
    while let Some(part) = form.next_field().await.map_err(wrong)? {
        match part.name() {
            Some("words") => words = part.text().await.map_err(wrong)?.chars().take(200).collect(),
            Some("piece") => piece = part.text().await.map_err(wrong)?.chars().take(40).collect(),
            Some("name") => name = part.text().await.map_err(wrong)?.chars().take(80).collect(),
            Some("photo") => bytes = Some(part.bytes().await.map_err(wrong)?),
            _ => {}
        }
    }
    let bytes = bytes.ok_or_else(|| Trouble::Input("no photograph was sent".into()))?;
    // One at a time: unpacked, a picture is many times as large.
    let _turn = turn().await?;
    let jpeg = tokio::task::spawn_blocking(move || made_anew(&bytes))
        .await
        .map_err(|e| Trouble::Inside(e.to_string()))?
        .map_err(|e| Trouble::Input(format!("this is no picture that can be read: {e}")))?;
    let photo = Photo { id: 0, words, at: now(), piece };
    app.store.add_photo(id, &photo, &name, &jpeg)?;
    Ok(Redirect::to(&format!("/job/{id}/details")).into_response())
}

/// Leave to unpack a picture.
pub async fn turn() -> Result<tokio::sync::SemaphorePermit<'static>, Trouble> {
    UNPACKING.acquire().await.map_err(|e| Trouble::Inside(e.to_string()))
}

/// A picture made small and written anew, turned upright, without what the camera noted in it.
pub fn made_anew(bytes: &[u8]) -> image::ImageResult<Vec<u8>> {
    let picture = crate::outline::unpacked(bytes)?;
    let small = if picture.width().max(picture.height()) > LONGEST {
        picture.thumbnail(LONGEST, LONGEST)
    } else {
        picture
    };
    let mut jpeg = Vec::new();
    small.to_rgb8().write_with_encoder(JpegEncoder::new_with_quality(&mut jpeg, 82))?;
    Ok(jpeg)
}

pub async fn show(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    let jpeg = app.store.photo(id)?.ok_or(Trouble::Missing)?;
    Ok(([(header::CONTENT_TYPE, "image/jpeg")], jpeg).into_response())
}

/// Removes a photograph for good: what it shows may be somebody's own.
pub async fn remove(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    app.store.remove_photo(id)?;
    Ok(StatusCode::NO_CONTENT.into_response())
}

#[cfg(test)]
mod tests {
    use super::made_anew;

    #[test]
    fn pictures_are_made_small_and_anew() {
        let mut png = Vec::new();
        let picture = image::RgbImage::from_fn(3000, 1000, |x, y| {
            image::Rgb([(x % 255) as u8, (y % 255) as u8, 9])
        });
        picture.write_to(&mut std::io::Cursor::new(&mut png), image::ImageFormat::Png).unwrap();
        let jpeg = made_anew(&png).unwrap();
        let read = image::load_from_memory(&jpeg).unwrap();
        assert_eq!((read.width(), jpeg[..2].to_vec()), (1600, vec![0xff, 0xd8]));
        assert!(made_anew(b"<svg onload='x'/>").is_err() && made_anew(&[]).is_err());
    }

    #[test]
    fn a_picture_taken_upright_stands_upright() {
        // Exif, tag 0x0112: 6 is to be turned a quarter clockwise, 8 the other way, 3 stands on its head
        // (Exif 2.3, CIPA DC-008; from memory). The picture's left half is dark.
        let picture = image::RgbImage::from_fn(80, 40, |x, _| {
            if x < 40 { image::Rgb([10, 10, 10]) } else { image::Rgb([250, 250, 250]) }
        });
        let mut jpeg = Vec::new();
        picture.write_to(&mut std::io::Cursor::new(&mut jpeg), image::ImageFormat::Jpeg).unwrap();
        let dark = |bytes: &[u8], x: u32, y: u32| {
            let picture = image::load_from_memory(bytes).unwrap().to_luma8();
            picture.get_pixel(x, y).0[0] < 128
        };
        for (held, size, top_is_dark) in [(6_u8, (40, 80), true), (8, (40, 80), false)] {
            let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
            exif.extend([held, 0, 0, 0, 0, 0, 0]);
            let mut noted = jpeg[..2].to_vec();
            noted.extend([0xff, 0xe1]);
            noted.extend(((exif.len() + 2) as u16).to_be_bytes());
            noted.extend(exif);
            noted.extend(&jpeg[2..]);
            let made = made_anew(&noted).unwrap();
            let read = image::load_from_memory(&made).unwrap();
            assert_eq!((read.width(), read.height()), size, "{held}");
            assert_eq!(dark(&made, 20, 10), top_is_dark, "{held}");
            assert_eq!(dark(&made, 20, 70), !top_is_dark, "{held}");
        }
    }
}
