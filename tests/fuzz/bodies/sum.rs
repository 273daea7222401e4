//! Lines of a text as the arguments of a sum.

use topdress::cli::sum;

/// Does the sum whose arguments are the lines of the text: it is answered, or refused with a reason.
pub fn sum(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let arguments: Vec<String> = text.lines().map(str::to_owned).collect();
    match sum::answer(&arguments) {
        Ok(answer) => assert!(!answer.is_empty()),
        Err(message) => assert!(!message.is_empty()),
    }
}
