namespace Whetwright.Core.Metrology.Gauges;

/// <summary>One measurement of a crossed gauge study: every operator measures every part, some or all of them several times.</summary>
/// <param name="Part">Which part was measured.</param>
/// <param name="Operator">Who, or which instrument, measured it.</param>
/// <param name="Trial">Which repeat it was; told apart only for the record.</param>
/// <param name="Value">What was read, in the study's own unit.</param>
public readonly record struct GaugeMeasurement(string Part, string Operator, string Trial, double Value);
