//! What the page may load and run: its own style and script, and nothing else.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use hmac_sha256::Hash;

/// The content security policy of a page with this style and this script. Pictures stand in the page itself.
/// Source: W3C, Content Security Policy Level 3, section 2.3.1 (digests as sources).
pub(super) fn policy(style: &str, script: &str) -> String {
    let (style, script) = (digest(style), digest(script));
    format!(
        "default-src 'none'; style-src '{style}'; script-src '{script}'; img-src data:; base-uri 'none'; \
         form-action 'none'"
    )
}

fn digest(text: &str) -> String {
    format!("sha256-{}", STANDARD.encode(Hash::hash(text.as_bytes())))
}

#[cfg(test)]
mod tests {
    use super::digest;

    /// The digest of `abc` is the example of FIPS 180-2, appendix B.1.
    #[test]
    fn a_digest_is_the_published_one() {
        assert_eq!(digest("abc"), "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }
}
