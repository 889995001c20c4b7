//! documents
