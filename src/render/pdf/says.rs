//! What the file says about itself, twice: in the old dictionary and in XMP.

use lopdf::{Dictionary, Object, Stream, StringFormat, dictionary};

use super::PRODUCER;
use super::finish::plain_stream;
use super::paint::utf16;
use crate::render::laid::Laid;

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
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"#,
        bom = '\u{feff}',
    );
    plain_stream(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet.into_bytes())
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
