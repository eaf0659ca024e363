namespace Whetwright.Web.Shared.Parts;

/// <summary>How loud a notice is.</summary>
public enum NoticeKind
{
    /// <summary>To know.</summary>
    Plain = 0,

    /// <summary>To mind.</summary>
    Warn = 1,

    /// <summary>To stop for.</summary>
    Stop = 2,
}
