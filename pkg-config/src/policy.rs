//! What scripts may do on the page, as its content-security policy states it.

/// What they may do on the hosted page: run this site's own, and the engine.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data: blob:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; \
    form-action 'none'; require-trusted-types-for 'script'; trusted-types meltmargin lit-html";

/// What stands around the policy in its tag.
const POLICY_TAG: (&str, &str) = ("<meta http-equiv=\"Content-Security-Policy\" content=\"", "\">");

/// The tag that states a content-security policy.
pub(crate) fn policy_tag(policy: &str) -> String {
    format!("{}{policy}{}", POLICY_TAG.0, POLICY_TAG.1)
}

/// The policy that a page states.
pub(crate) fn policy_of(page: &str) -> Option<&str> {
    let (_, policy) = page.split_once(POLICY_TAG.0)?;
    policy.split_once(POLICY_TAG.1).map(|(policy, _)| policy)
}
