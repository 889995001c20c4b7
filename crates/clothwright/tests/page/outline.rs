//! An outline from a photograph on the page: sent, shown, drawn, taken over.

use crate::served::{Served, Visitor};
use serde_json::{Value, json};

const PHOTOGRAPH: &[u8] = include_bytes!("../photographs/panel.jpg");

fn form(fields: &[(&str, &str)], photo: Option<&[u8]>) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, value) in fields {
        body.extend(
            format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
                .bytes(),
        );
    }
    if let Some(photo) = photo {
        body.extend(
            b"--edge\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"p.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n",
        );
        body.extend(photo);
        body.extend(b"\r\n");
    }
    body.extend(b"--edge--\r\n");
    body
}

fn send(visitor: &Visitor, path: &str, kind: &str, body: &[u8]) -> (u16, Value) {
    let headers =
        [("Cookie", visitor.cookie.as_str()), ("X-Token", &visitor.token), ("Content-Type", kind)];
    let answer = crate::http::send(visitor.to, "POST", path, &headers, body).unwrap();
    (answer.code, serde_json::from_slice(&answer.body).unwrap_or(Value::Null))
}

#[test]
fn a_photograph_becomes_the_outline_of_a_piece() {
    let folder = tempfile::tempdir().unwrap();
    let served = Served::start(folder.path());
    let visitor = Visitor::new(served.address);
    let job = visitor.job(
        "[job]\nname = \"Hall\"\nunit = \"mm\"\n[[cloth]]\nname = \"Moss\"\nwidth = \"1400\"\nprice = 20\n\
         [[board]]\nname = \"Ply\"\nthickness = \"12\"\nsheet = [{ length = \"2440\", width = \"1220\", price = 40 }]\n\
         [[piece]]\nid = \"pa\"\nname = \"Panel\"\nkind = \"panel\"\ncloth = \"Moss\"\nboard = \"Ply\"\nwidth = \"800\"\nheight = \"400\"\nradius = \"10\"\n",
    );
    let at = format!("{job}/outline/pa");
    assert!(visitor.get(&at).text().contains("Outline from a photograph: Panel"));
    assert_eq!(visitor.get(&format!("{job}/outline/none")).code, 404);
    assert!(visitor.get("/photo-sheets.pdf").body.starts_with(b"%PDF"));

    let n: Vec<&str> = include_str!("../photographs/taped.txt").split_whitespace().collect();
    let fields = [
        ("tape-1-2", n[0]),
        ("tape-3-4", n[1]),
        ("across", n[2]),
        ("up", n[3]),
        ("thickness", n[4]),
    ];
    let kind = "multipart/form-data; boundary=edge";
    // A measure that cannot be read, no photograph, no picture: each said.
    let long = form(&[("tape-1-2", "long")], Some(PHOTOGRAPH));
    assert!(send(&visitor, &at, kind, &long).1["do"].is_string());
    let (_, told) = send(&visitor, &at, kind, &form(&fields[..4], Some(PHOTOGRAPH)));
    assert!(told["why"].as_str().unwrap().contains("how thick"), "{told}");
    assert_eq!(send(&visitor, &at, kind, &form(&fields, None)).0, 422);
    let (_, told) = send(&visitor, &at, kind, &form(&fields, Some(b"no picture")));
    assert!(told["why"].as_str().unwrap().contains("no picture"));

    let (code, found) = send(&visitor, &at, kind, &form(&fields, Some(PHOTOGRAPH)));
    assert_eq!(code, 200);
    let name = found["name"].as_str().unwrap_or_else(|| panic!("{found}"));
    assert!(visitor.get(&format!("/tracing/{name}")).body.starts_with(&[0xff, 0xd8]));
    let mm = |v: &Value| v.as_str().unwrap().trim_end_matches(" mm").parse::<f64>().unwrap();
    let within = mm(&found["within"]);
    for (row, is) in [(0, 900.0), (1, 450.0), (2, 120.0)] {
        let size = mm(&found["sizes"][row]["size"]);
        assert!((size - is).abs() <= 2.0 * within, "{size} is {is}: {}", found["sizes"]);
    }

    // A corner dragged some pixels away comes back to the edge; two corners are none.
    let mut corners = found["corners"].clone();
    corners[0][0][0] = json!(corners[0][0][0].as_f64().unwrap() + 6.0);
    let one = format!("{at}/{name}");
    let (_, again) = send(
        &visitor,
        &one,
        "application/json",
        json!({ "loops": corners }).to_string().as_bytes(),
    );
    let moved = mm(&again["sizes"][0]["size"]) - mm(&found["sizes"][0]["size"]);
    assert!(moved.abs() <= 0.5, "{again}");
    let few = json!({ "loops": [[[1.0, 1.0], [2.0, 2.0]]] }).to_string();
    assert_eq!(send(&visitor, &one, "application/json", few.as_bytes()).0, 422);

    let (code, taken) = send(&visitor, &format!("{one}/take"), "application/json", b"");
    assert_eq!(code, 200, "{taken}");
    let sheet = visitor.sheet(&job);
    let piece = &sheet["values"]["piece"][0];
    assert_eq!(piece["shape"], "traced");
    assert!(
        piece.get("width").is_none() && piece["corner"].as_array().unwrap().len() >= 8,
        "{piece}"
    );
    assert_eq!(piece["cut_out"].as_array().unwrap().len(), 1);
    assert_eq!(sheet["faults"], json!([]), "{}", sheet["faults"]);
    // One step of the history, and the photograph with the piece.
    let versions = visitor.get(&format!("{job}/versions")).text();
    assert!(versions.contains("from a photograph"), "{versions}");
}
