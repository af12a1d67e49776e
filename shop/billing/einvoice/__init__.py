"""The electronic invoice: EN 16931 as a Cross Industry Invoice, embedded in the paper that people read: Factur-X."""
