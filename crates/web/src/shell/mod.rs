//! What stands around every page: head, navigation, forms, refusals.

mod error;
mod form;
mod login;
mod nav;
mod page;
mod rows;
mod typed_again;

pub(crate) use error::{dressed, logged_out, read_failed, refusal, stale_form, wrong_host};
pub use error::{error_page, internal, not_written};
pub use form::{Choice, Field, Form, error_summary};
pub(crate) use login::login_page;
pub use nav::Nav;
pub use page::{Page, page, page_with_errors};
pub use typed_again::typed_again;
pub(crate) use typed_again::typed_list;
