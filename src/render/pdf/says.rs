//! What the file says about itself, twice: in the old dictionary and in XMP; and what its colours mean.

use lopdf::{Dictionary, Object, ObjectId, Stream, StringFormat, dictionary};

use super::PRODUCER;
use super::finish::plain_stream;
use super::paint::utf16;
use crate::render::laid::Laid;

/// The standards that the file keeps: PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2), which has no word of its own
/// for the former, so that its schema is described here (ISO 19005-2, 6.6.2.3). An outside checker reads every paper of
/// the demos against both (`tests/it/outside_standards.rs`); without it the program would claim nothing.
const CONFORMS: &str = r#"<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/"><pdfuaid:part>1</pdfuaid:part></rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"><pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance></rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289 that the file keeps</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>"#;

/// sRGB (IEC 61966-2-1), which every colour of the pages is given in; `templates/color/README.md` says how it was made.
const SRGB: &[u8] = include_bytes!("../../../templates/color/srgb.icc");

/// The information dictionary. It names no person.
pub(super) fn info(laid: &Laid) -> Dictionary {
    let (year, month, day) = laid.about.date;
    let date = format!("D:{year:04}{month:02}{day:02}000000Z");
    let words = |text: &str| Object::String(utf16(text), StringFormat::Hexadecimal);
    dictionary! {
        "Title" => words(&laid.about.title),
        "Subject" => words(&laid.about.subject),
        "Creator" => Object::string_literal(PRODUCER),
        "Producer" => Object::string_literal(PRODUCER),
        "CreationDate" => Object::string_literal(date.as_str()),
        "ModDate" => Object::string_literal(date.as_str()),
    }
}

/// The XMP packet.
pub(super) fn metadata(laid: &Laid) -> Stream {
    let (year, month, day) = laid.about.date;
    let date = format!("{year:04}-{month:02}-{day:02}T00:00:00Z");
    let title = escaped(&laid.about.title);
    let subject = escaped(&laid.about.subject);
    let language = escaped(&laid.about.language);
    let packet = format!(
        r#"<?xpacket begin="{bom}" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<pdf:Producer>{PRODUCER}</pdf:Producer>
<xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>
<xmp:CreateDate>{date}</xmp:CreateDate>
<xmp:ModifyDate>{date}</xmp:ModifyDate>
</rdf:Description>
{CONFORMS}
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"#,
        bom = '\u{feff}',
    );
    plain_stream(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet.into_bytes())
}

/// The profile of the colours, as a stream.
pub(super) fn colours() -> Stream {
    Stream::new(dictionary! { "N" => 3 }, SRGB.to_vec())
}

/// What the colours are meant for, with its profile.
pub(super) fn output_intent(profile: ObjectId) -> Dictionary {
    let name = "sRGB IEC61966-2.1";
    dictionary! {
        "Type" => "OutputIntent",
        "S" => "GTS_PDFA1",
        "OutputConditionIdentifier" => Object::string_literal(name),
        "Info" => Object::string_literal(name),
        "DestOutputProfile" => profile,
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
