"""What a hybrid invoice says about itself in the metadata of its PDF: Factur-X 1.0.07, 6.2.2, with the extension
schema that ISO 19005-3, 6.6.2.3 asks for wherever metadata are not among the predefined ones."""

FILE_NAME = "factur-x.xml"
NAMESPACE = "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#"
LEVEL = "EN 16931"
PROPERTIES = (
    ("DocumentFileName", "The name of the embedded XML document"),
    ("DocumentType", "The type of the hybrid document in capital letters, e.g. INVOICE or ORDER"),
    ("Version", "The actual version of the standard applying to the embedded XML document"),
    ("ConformanceLevel", "The conformance level of the embedded XML document"),
)


def _property(name, says):
    return (
        f'<rdf:li rdf:parseType="Resource"><pdfaProperty:name>{name}</pdfaProperty:name>'
        f"<pdfaProperty:valueType>Text</pdfaProperty:valueType><pdfaProperty:category>external</pdfaProperty:category>"
        f"<pdfaProperty:description>{says}</pdfaProperty:description></rdf:li>"
    )


DESCRIPTIONS = f"""<rdf:Description rdf:about=""
 xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>Factur-X PDFA Extension Schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>{NAMESPACE}</pdfaSchema:namespaceURI><pdfaSchema:prefix>fx</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq>{"".join(_property(*one) for one in PROPERTIES)}</rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>
<rdf:Description rdf:about="" xmlns:fx="{NAMESPACE}"><fx:DocumentType>INVOICE</fx:DocumentType>
<fx:DocumentFileName>{FILE_NAME}</fx:DocumentFileName><fx:Version>1.0</fx:Version>
<fx:ConformanceLevel>{LEVEL}</fx:ConformanceLevel></rdf:Description>""".encode()
