//! A cloth laid by hand in a real browser: with a mouse, with keys, with a finger.

use crate::browser::Browser;
use serde_json::{Value, json};

/// A part is dragged and stays, another is moved with the keys, a flaw is tapped; then all is let go.
pub fn lay_by_hand(browser: &Browser, job: &str) {
    browser.go(&format!("{job}/by-hand/0"));
    let searched =
        "return document.querySelector('#main').dataset.over === 'true' && !!window.htmx";
    browser.until("the search", searched);
    browser.accessible("by hand");
    browser.no_sideways("by hand");
    let part = "rect[data-part=\"1A\"]";
    browser.open(part);
    let before = browser.script(&format!("return +document.querySelector('{part}').dataset.mmY"));
    let steps = |x: i64| {
        json!([
            { "type": "pointerMove", "duration": 0, "origin": { ELEMENT: browser.find(part) }, "x": 0, "y": 0 },
            { "type": "pointerDown", "button": 0 },
            { "type": "pointerMove", "duration": 100, "origin": "pointer", "x": x, "y": 4 },
            { "type": "pointerUp", "button": 0 },
        ])
    };
    let pointer = |steps: Value| {
        browser.script("window.fresh = true");
        let pointer = json!({ "type": "pointer", "id": "finger", "actions": steps });
        browser.command("POST", "/actions", &json!({ "actions": [pointer] }));
    };
    pointer(steps(120));
    let pinned = "return !window.fresh && document.querySelectorAll('rect.kept').length === 1";
    browser.until("the pinned part", pinned);
    let at = "return +document.querySelector('rect.kept').dataset.mmY";
    let after = browser.script(at);
    assert!(after.as_f64() > before.as_f64(), "{before} {after}");
    browser.until("the search round it", searched);
    assert_eq!(browser.script(at), after);
    // With the keys: where it lies, and without a mouse.
    browser.script("window.fresh = true; const r = document.querySelector('rect[data-part]:not(.kept)'); r.focus(); r.dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', bubbles: true}))");
    browser.until(
        "two pinned",
        "return !window.fresh && document.querySelectorAll('rect.kept').length === 2",
    );
    browser.until("the search", searched);
    browser.click("#mark-flaw");
    pointer(steps(0));
    // Under a pinned part a flaw makes its pin fail, which is told.
    browser.until("the flaw", "return !window.fresh && document.body.textContent.includes('2 in across, 2 in along') && document.body.textContent.includes('is pinned over a flaw')");
    browser.until("the search", searched);
    browser.script("window.fresh = true");
    browser.click("form[action*='/flaw'] button.b");
    browser.until("no flaw", "return !window.fresh && !!document.querySelector('#main') && !document.body.textContent.includes('is pinned over a flaw')");
    for left in ["1", "0"] {
        browser.until("the search", searched);
        browser.script("window.fresh = true");
        browser.click("form[action*='/let-go'] button");
        browser.until("let go", &format!("return !window.fresh && document.querySelectorAll('form[action*=\"/let-go\"]').length === {left}"));
    }
}

/// The name by which the protocol refers to an element.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// A finger scrolls the picture until it is said that parts are to be moved.
pub fn finger_on_the_cloth(browser: &Browser, job: &str) {
    let touch =
        json!({ "cmd": "Emulation.setTouchEmulationEnabled", "params": { "enabled": true } });
    browser.command("POST", "/goog/cdp/execute", &touch);
    browser.go(&format!("{job}/by-hand/0"));
    browser.until("the search", "return document.querySelector('#main').dataset.over === 'true'");
    let pressed = "return document.querySelector('#move').getAttribute('aria-pressed')";
    assert_eq!(browser.script(pressed), json!("false"));
    browser.no_sideways("by hand");
    browser.accessible("by hand on a phone");
    browser.click("#move");
    let part = "rect[data-part=\"1A\"]";
    browser.open(part);
    browser.script("window.fresh = true");
    let steps = json!([
        { "type": "pointerMove", "duration": 0, "origin": { ELEMENT: browser.find(part) }, "x": 0, "y": 0 },
        { "type": "pointerDown", "button": 0 },
        { "type": "pointerMove", "duration": 80, "origin": "pointer", "x": 20, "y": 0 },
        { "type": "pointerMove", "duration": 80, "origin": "pointer", "x": 60, "y": 2 },
        { "type": "pointerUp", "button": 0 },
    ]);
    let finger = json!({ "type": "pointer", "id": "finger", "parameters": { "pointerType": "touch" }, "actions": steps });
    browser.command("POST", "/actions", &json!({ "actions": [finger] }));
    browser.until("the pinned part", "return !window.fresh && document.querySelectorAll('rect.kept').length === 1 && +document.querySelector('rect.kept').dataset.mmY > 30");
}
