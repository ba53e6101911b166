//! Hand examples of the model.
