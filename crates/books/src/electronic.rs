//! An invoice as an electronic one: EN 16931 in the syntax of UBL 2.1.
//!
//! Source: EN 16931-1 (semantic model, business terms BT and groups BG, rules BR) and its binding to UBL,
//! CEN/TS 16931-3-2; OASIS UBL 2.1. From memory.

use crate::account::{Invoice, Kind, Line, Party, taxes};
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};
use rust_decimal::Decimal;

/// Why it cannot be written as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lacking {
    /// The workroom's name or country.
    Seller,
    /// The customer's name or country.
    Buyer,
    /// A currency as its three letters.
    Currency,
    /// The workroom's number at the tax office, where there is tax.
    TaxNumber,
}

/// Writes nested elements; what is written to memory does not fail.
struct Out(Writer<Vec<u8>>);

impl Out {
    fn event(&mut self, event: Event) {
        // Memory takes everything.
        let _ = self.0.write_event(event);
    }

    fn within(&mut self, name: &str, inner: impl FnOnce(&mut Self)) {
        self.event(Event::Start(BytesStart::new(name)));
        inner(self);
        self.event(Event::End(BytesEnd::new(name)));
    }

    fn text(&mut self, name: &str, text: &str) {
        self.within(name, |out| out.event(Event::Text(BytesText::new(text))));
    }

    fn with(&mut self, name: &str, (key, value): (&str, &str), text: &str) {
        let mut start = BytesStart::new(name);
        start.push_attribute((key, value));
        self.event(Event::Start(start));
        self.event(Event::Text(BytesText::new(text)));
        self.event(Event::End(BytesEnd::new(name)));
    }

    fn amount(&mut self, name: &str, currency: &str, amount: Decimal) {
        self.with(name, ("currencyID", currency), &format!("{amount:.2}"));
    }
}

/// The currency's three letters, of signs that are plain.
pub fn currency(sign: &str) -> Option<&str> {
    match sign {
        "£" => Some("GBP"),
        "€" => Some("EUR"),
        letters if letters.len() == 3 && letters.bytes().all(|b| b.is_ascii_uppercase()) => {
            Some(letters)
        }
        _ => None,
    }
}

/// What an invoice lacks to be an electronic one.
pub fn lacking(invoice: &Invoice) -> Vec<Lacking> {
    let is_whole = |party: &Party| !party.name.trim().is_empty() && party.country.len() == 2;
    let mut all = Vec::new();
    if !is_whole(&invoice.seller) {
        all.push(Lacking::Seller);
    }
    if !is_whole(&invoice.buyer) {
        all.push(Lacking::Buyer);
    }
    if currency(&invoice.currency).is_none() {
        all.push(Lacking::Currency);
    }
    let is_taxed = invoice.lines.iter().any(|line| line.percent > Decimal::ZERO);
    if is_taxed && invoice.seller.tax_number.trim().is_empty() {
        all.push(Lacking::TaxNumber);
    }
    all
}

/// The invoice as UBL.
///
/// # Errors
/// What it lacks.
pub fn ubl(invoice: &Invoice) -> Result<String, Vec<Lacking>> {
    let lacking = lacking(invoice);
    let Some(currency) = currency(&invoice.currency).filter(|_| lacking.is_empty()) else {
        return Err(lacking);
    };
    let is_credit = invoice.kind == Kind::Credit;
    let name = if is_credit { "CreditNote" } else { "Invoice" };
    let mut out = Out(Writer::new_with_indent(Vec::new(), b' ', 2));
    out.event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)));
    let mut root = BytesStart::new(name);
    let space = format!("urn:oasis:names:specification:ubl:schema:xsd:{name}-2");
    root.push_attribute(("xmlns", space.as_str()));
    root.push_attribute(("xmlns:cac", AGGREGATES));
    root.push_attribute(("xmlns:cbc", BASICS));
    out.event(Event::Start(root));
    head(&mut out, invoice, currency, is_credit);
    out.within("cac:AccountingSupplierParty", |out| party(out, &invoice.seller, true));
    out.within("cac:AccountingCustomerParty", |out| party(out, &invoice.buyer, false));
    if !invoice.terms.trim().is_empty() {
        out.within("cac:PaymentTerms", |out| out.text("cbc:Note", invoice.terms.trim()));
    }
    totals(&mut out, invoice, currency);
    for (i, line) in invoice.lines.iter().enumerate() {
        one_line(&mut out, (i + 1, line), currency, is_credit);
    }
    out.event(Event::End(BytesEnd::new(name)));
    String::from_utf8(out.0.into_inner()).map_err(|_| Vec::new())
}

const AGGREGATES: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2";
const BASICS: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2";

fn head(out: &mut Out, invoice: &Invoice, currency: &str, is_credit: bool) {
    // BT-24, BT-1, BT-2, BT-9, BT-3 (380 invoice, 381 credit note; UNTDID 1001), BT-5.
    out.text("cbc:CustomizationID", "urn:cen.eu:en16931:2017");
    out.text("cbc:ID", &invoice.number.to_string());
    out.text("cbc:IssueDate", &invoice.date);
    if is_credit {
        out.text("cbc:CreditNoteTypeCode", "381");
    } else {
        out.text("cbc:DueDate", &invoice.due);
        out.text("cbc:InvoiceTypeCode", "380");
    }
    if !invoice.job.is_empty() {
        out.text("cbc:Note", &invoice.job);
    }
    out.text("cbc:DocumentCurrencyCode", currency);
    if let Some(earlier) = invoice.takes_back {
        out.within("cac:BillingReference", |out| {
            out.within("cac:InvoiceDocumentReference", |out| {
                out.text("cbc:ID", &earlier.to_string());
            });
        });
    }
}

fn party(out: &mut Out, party: &Party, is_seller: bool) {
    out.within("cac:Party", |out| {
        out.within("cac:PostalAddress", |out| {
            let mut lines = party.address.lines().map(str::trim).filter(|line| !line.is_empty());
            if let Some(first) = lines.next() {
                out.text("cbc:StreetName", first);
            }
            let rest: Vec<&str> = lines.collect();
            if !rest.is_empty() {
                out.text("cbc:AdditionalStreetName", &rest.join(", "));
            }
            out.within("cac:Country", |out| out.text("cbc:IdentificationCode", &party.country));
        });
        if is_seller && !party.tax_number.trim().is_empty() {
            out.within("cac:PartyTaxScheme", |out| {
                out.text("cbc:CompanyID", &tax_number(party));
                out.within("cac:TaxScheme", |out| out.text("cbc:ID", "VAT"));
            });
        }
        out.within("cac:PartyLegalEntity", |out| {
            out.text("cbc:RegistrationName", party.name.trim());
        });
    });
}

/// With the country's letters before it, as rule BR-CO-09 asks.
fn tax_number(party: &Party) -> String {
    let plain: String = party.tax_number.chars().filter(|c| !c.is_whitespace()).collect();
    let has_letters = plain.bytes().take(2).filter(u8::is_ascii_uppercase).count() == 2;
    if has_letters { plain } else { format!("{}{plain}", party.country) }
}

/// S for taxed, Z for nought percent (UNTDID 5305).
fn category(percent: Decimal) -> &'static str {
    if percent > Decimal::ZERO { "S" } else { "Z" }
}

fn totals(out: &mut Out, invoice: &Invoice, currency: &str) {
    out.within("cac:TaxTotal", |out| {
        out.amount("cbc:TaxAmount", currency, invoice.tax());
        for (percent, net, tax) in taxes(&invoice.lines) {
            out.within("cac:TaxSubtotal", |out| {
                out.amount("cbc:TaxableAmount", currency, net);
                out.amount("cbc:TaxAmount", currency, tax);
                out.within("cac:TaxCategory", |out| scheme(out, percent));
            });
        }
    });
    let (net, tax) = (invoice.net(), invoice.tax());
    out.within("cac:LegalMonetaryTotal", |out| {
        out.amount("cbc:LineExtensionAmount", currency, net);
        out.amount("cbc:TaxExclusiveAmount", currency, net);
        out.amount("cbc:TaxInclusiveAmount", currency, net + tax);
        if !invoice.rounding.is_zero() {
            out.amount("cbc:PayableRoundingAmount", currency, invoice.rounding);
        }
        out.amount("cbc:PayableAmount", currency, invoice.total());
    });
}

fn scheme(out: &mut Out, percent: Decimal) {
    out.text("cbc:ID", category(percent));
    out.text("cbc:Percent", &percent.normalize().to_string());
    out.within("cac:TaxScheme", |out| out.text("cbc:ID", "VAT"));
}

fn one_line(out: &mut Out, (number, line): (usize, &Line), currency: &str, is_credit: bool) {
    let (name, quantity) = match is_credit {
        true => ("cac:CreditNoteLine", "cbc:CreditedQuantity"),
        false => ("cac:InvoiceLine", "cbc:InvoicedQuantity"),
    };
    // A price is never below nought (BR-27): what is taken off has a quantity of minus one.
    let sign = if line.net < Decimal::ZERO { "-1" } else { "1" };
    out.within(name, |out| {
        out.text("cbc:ID", &number.to_string());
        // C62: one (UN/ECE Recommendation 20).
        out.with(quantity, ("unitCode", "C62"), sign);
        out.amount("cbc:LineExtensionAmount", currency, line.net);
        out.within("cac:Item", |out| {
            out.text("cbc:Name", &line.what);
            out.within("cac:ClassifiedTaxCategory", |out| scheme(out, line.percent));
        });
        out.within("cac:Price", |out| out.amount("cbc:PriceAmount", currency, line.net.abs()));
    });
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // In tests a failure may say so.
mod tests {
    use super::*;

    fn party(name: &str) -> Party {
        Party {
            name: name.into(),
            address: "Mill Lane 4\nUppertown".into(),
            country: "DE".into(),
            tax_number: "123456789".into(),
            contact: String::new(),
        }
    }

    fn invoice() -> Invoice {
        let line = |what: &str, cents: i64, percent: i64| Line {
            what: what.into(),
            net: Decimal::new(cents, 2),
            percent: Decimal::from(percent),
        };
        Invoice {
            number: 12,
            kind: Kind::Final,
            takes_back: None,
            date: "2026-11-27".into(),
            due: "2026-12-27".into(),
            job: "Benches <new> & old".into(),
            seller: party("Workroom"),
            buyer: party("Mill café"),
            currency: "EUR".into(),
            tax_name: "VAT".into(),
            lines: vec![
                line("Cloth", 20_000, 19),
                line("Labour", 30_050, 19),
                line("less 11", -10_000, 19),
            ],
            rounding: Decimal::new(-1, 2),
            terms: "30 days".into(),
        }
    }

    #[test]
    fn sums_hold_as_the_rules_say() {
        let text = ubl(&invoice()).unwrap();
        let document = roxmltree::Document::parse(&text).unwrap();
        let all = |name: &str| -> Vec<String> {
            document
                .descendants()
                .filter(|node| node.tag_name().name() == name)
                .map(|node| node.text().unwrap_or_default().to_string())
                .collect()
        };
        let sum = |texts: &[String]| -> Decimal {
            texts.iter().map(|t| t.parse::<Decimal>().unwrap()).sum()
        };
        // BR-CO-10: the sum of the lines; the first is the total's own.
        let lines = all("LineExtensionAmount");
        assert_eq!(sum(&lines[..1]), sum(&lines[1..]));
        // BR-CO-15, BR-CO-16.
        let (net, tax) = (sum(&all("TaxExclusiveAmount")), sum(&all("TaxAmount")[..1]));
        assert_eq!(sum(&all("TaxInclusiveAmount")), net + tax);
        assert_eq!(
            sum(&all("PayableAmount")),
            sum(&all("TaxInclusiveAmount")) + sum(&all("PayableRoundingAmount"))
        );
        // BR-CO-17: 400.50 at 19 % is 76.095, up to 76.10.
        assert_eq!(tax, Decimal::new(7_610, 2));
        // BR-27: no price below nought.
        assert!(all("PriceAmount").iter().all(|p| p.parse::<Decimal>().unwrap() >= Decimal::ZERO));
        assert_eq!(all("CompanyID"), ["DE123456789"]);
        assert_eq!(all("Note")[0], "Benches <new> & old");
    }

    #[test]
    fn a_credit_names_what_it_takes_back() {
        let credit = Invoice { kind: Kind::Credit, takes_back: Some(12), number: 13, ..invoice() };
        let text = ubl(&credit).unwrap();
        assert!(text.contains("<CreditNote ") && text.contains("381"));
        let document = roxmltree::Document::parse(&text).unwrap();
        let earlier =
            document.descendants().find(|n| n.tag_name().name() == "InvoiceDocumentReference");
        assert!(earlier.unwrap().descendants().any(|n| n.text() == Some("12")));
    }

    #[test]
    fn what_is_lacking_is_told() {
        let mut bare = invoice();
        bare.buyer = Party::default();
        bare.currency = "$".into();
        bare.seller.tax_number.clear();
        assert_eq!(
            ubl(&bare).unwrap_err(),
            [Lacking::Buyer, Lacking::Currency, Lacking::TaxNumber]
        );
    }
}
